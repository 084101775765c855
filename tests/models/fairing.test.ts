import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  aftChockRoomM,
  fairingGapM,
  ROUND_SECTION_BULGE,
  type FairingRoom,
} from '../../lib/models/fairing.js';

fc.configureGlobal({ seed: 20_260_223 });

test('a round section pressed flat keeps the length of its wall (DERIVED)', () => {
  // Diameter 1, pressed down by d: two half circles of diameter 1 - d and two flats. The flats take the wall that is
  // left over; the width is flat plus one diameter.
  for (const d of [0.1, 0.25, 0.4]) {
    const flat = (Math.PI - Math.PI * (1 - d)) / 2;
    const width = flat + (1 - d);
    expect((width - 1) / 2 / d).toBeCloseTo(ROUND_SECTION_BULGE, 12);
  }
  expect(ROUND_SECTION_BULGE).toBeCloseTo(0.2854, 4);
});

const room: FairingRoom = {
  measuredGapM: 0.008,
  measuredDeflectionM: 0.03,
  bulgePerDeflection: 0.25,
  growthShare: 0,
  sectionWidthM: 0.16,
  sectionHeightM: 0.14,
};

describe('gap between tire and fairing', () => {
  test('by hand: 8 mm at 30 mm of deflection, a quarter of the rest goes into the side', () => {
    expect(fairingGapM(room, 0.03)).toBe(0.008);
    // 20 mm more: 5 mm of bulge.
    expect(fairingGapM(room, 0.05)).toBeCloseTo(0.003, 12);
    // Used up at 30 + 8 / 0.25 = 62 mm.
    expect(fairingGapM(room, 0.062)).toBeCloseTo(0, 12);
    // Growth of 1 % of 160 mm width: 0.8 mm on each side; over the crown 1.4 mm.
    expect(fairingGapM({ ...room, growthShare: 0.01 }, 0.05)).toBeCloseTo(0.0022, 12);
    expect(fairingGapM({ ...room, growthShare: 0.01 }, 0.02)).toBeCloseTo(0.0066, 12);
  });

  const share = fc.double({ min: 0, max: 0.1, noNaN: true });
  const deflectionM = fc.double({ min: 0, max: 0.1, noNaN: true });

  test('never widens with deflection, growth or a softer side, and never exceeds what was measured', () => {
    fc.assert(
      fc.property(deflectionM, deflectionM, share, share, (deflection, more, growth, further) => {
        const grown = { ...room, growthShare: growth };
        const gap = fairingGapM(grown, deflection);
        expect(gap).toBeLessThanOrEqual(room.measuredGapM);
        expect(fairingGapM(grown, deflection + more)).toBeLessThanOrEqual(gap);
        expect(fairingGapM({ ...grown, growthShare: growth + further }, deflection)).toBeLessThanOrEqual(gap);
        if (deflection >= room.measuredDeflectionM)
          expect(fairingGapM({ ...grown, bulgePerDeflection: 0.5 }, deflection)).toBeLessThanOrEqual(gap);
      }),
    );
  });

  test('scales with the size of everything', () => {
    fc.assert(
      fc.property(
        deflectionM,
        share,
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        (deflection, growth, s) => {
          const grown = { ...room, growthShare: growth };
          const scaled = {
            ...grown,
            measuredGapM: s * room.measuredGapM,
            measuredDeflectionM: s * room.measuredDeflectionM,
            sectionWidthM: s * room.sectionWidthM,
            sectionHeightM: s * room.sectionHeightM,
          };
          expect(fairingGapM(scaled, s * deflection)).toBeCloseTo(s * fairingGapM(grown, deflection), 12);
        },
      ),
    );
  });
});

describe('room over an aft chock', () => {
  test('by hand: 115 mm high, 330 mm behind, 10 mm more deflection, 0.02 rad, 90 mm chock', () => {
    // 115 - 10 - 330 x 0.02 - 90 = 8.4 mm.
    expect(aftChockRoomM(0.115, 0.33, 0.01, 0.02, 0.09)).toBeCloseTo(0.0084, 12);
  });

  test('shrinks as the tire sinks and as the tail settles', () => {
    const m = fc.double({ min: 0, max: 0.1, noNaN: true });
    fc.assert(
      fc.property(m, m, (deflection, angle) => {
        const base = aftChockRoomM(0.115, 0.33, 0.01, 0.02, 0.09);
        expect(aftChockRoomM(0.115, 0.33, 0.01 + deflection, 0.02, 0.09)).toBeLessThanOrEqual(base);
        expect(aftChockRoomM(0.115, 0.33, 0.01, 0.02 + angle, 0.09)).toBeLessThanOrEqual(base);
      }),
    );
  });
});
