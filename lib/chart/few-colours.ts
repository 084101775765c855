/** Colours that fit in a picture with one byte per pixel. */
const MOST_COLOURS = 256;
/** Slowest and smallest. */
const COMPRESSION_LEVEL = 9;

/**
 * Makes a picture of a chart a third of its size: one byte per pixel, which points to a list of colours. A chart has few
 * colours, and those that smooth the edges of letters are many but seldom used; where there are more than 256, the rarest
 * take the nearest of the others.
 *
 * @param png a PNG picture.
 * @returns the same picture; unchanged if it is not of red, green, blue and opacity of 8 bits each, or is transparent
 *   somewhere.
 */
export async function withFewColours(png: Uint8Array): Promise<Uint8Array> {
  const { decode, encode } = await import('fast-png');
  const { width, height, depth, channels, data } = decode(png);
  if (depth !== 8 || channels !== 4) return png;
  for (let byte = 3; byte < data.length; byte += 4) if (data[byte] !== 255) return png;
  const pixels = Uint32Array.from({ length: width * height }, (_, pixel) => colourAt(data, 4 * pixel));
  const colours = mostFrequent(pixels);
  const numbers = new Map(colours.map((colour, number) => [colour, number]));
  const indexes = Uint8Array.from(pixels, (colour) => {
    let number = numbers.get(colour);
    if (number === undefined) {
      number = nearest(colour, colours);
      numbers.set(colour, number);
    }
    return number;
  });
  const palette = colours.map((colour) => parts(colour));
  return encode(
    { width, height, data: indexes, depth: 8, channels: 1, palette },
    { zlib: { level: COMPRESSION_LEVEL } },
  );
}

/** A colour as one number: red, green, blue from the highest byte down. */
function colourAt(data: ArrayLike<number>, byte: number): number {
  return data[byte]! * 65_536 + data[byte + 1]! * 256 + data[byte + 2]!;
}

function parts(colour: number): [number, number, number] {
  return [colour >> 16, (colour >> 8) & 255, colour & 255];
}

/** The colours of most pixels, most first. */
function mostFrequent(pixels: Uint32Array): number[] {
  const counts = new Map<number, number>();
  for (const colour of pixels) counts.set(colour, (counts.get(colour) ?? 0) + 1);
  const ordered = [...counts].sort(([a, countA], [b, countB]) => countB - countA || a - b);
  return ordered.slice(0, MOST_COLOURS).map(([colour]) => colour);
}

/** Place of the nearest of some colours. */
function nearest(colour: number, colours: readonly number[]): number {
  const [red, green, blue] = parts(colour);
  let place = 0;
  let least = Infinity;
  colours.forEach((other, index) => {
    const [otherRed, otherGreen, otherBlue] = parts(other);
    const distance = (red - otherRed) ** 2 + (green - otherGreen) ** 2 + (blue - otherBlue) ** 2;
    if (distance >= least) return;
    least = distance;
    place = index;
  });
  return place;
}
