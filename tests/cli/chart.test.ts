import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { CHARTS } from '../../lib/report/catalogue.js';
import { gravelbar, inFolder, listing, shipped } from '../support/command.js';

const FIRST = shipped('first.json');
/** First bytes of a PNG file (W3C, Portable Network Graphics, 5.2). */
const PNG_START = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);

describe('chart', () => {
  test.each(Object.keys(CHARTS))('%s is drawn and said to be drawn', (name) =>
    inFolder(async (folder) => {
      const args = ['chart', FIRST, name, '--trials', '8', '--out', 'picture.svg'];
      const { code, stdout, stderr } = await gravelbar(args, { cwd: folder });
      expect({ code, stdout }).toEqual({ code: 0, stdout: '' });
      expect(stderr).toMatch(new RegExp(`^wrote picture\\.svg: ${name}\\b[^\\n]*\\n$`));
      expect(readFileSync(join(folder, 'picture.svg'), 'utf8')).toMatch(/^<svg .*<\/svg>\s*$/s);
    }),
  );

  test('help names them all, in their order', async () => {
    const { stdout } = await gravelbar(['chart', '--help']);
    const names = Object.keys(CHARTS);
    expect(stdout.replace(/\s+/g, ' ')).toContain(`${names.slice(0, -1).join(', ')} or ${names.at(-1)!}`);
  });

  test('the ending of the file decides what is written', () =>
    inFolder(async (folder) => {
      for (const ending of ['png', 'JSON']) {
        const args = ['chart', FIRST, 'map', '--trials', '8', '--out', `picture.${ending}`];
        expect((await gravelbar(args, { cwd: folder })).code).toBe(0);
      }
      const png = readFileSync(join(folder, 'picture.png'));
      expect(png.subarray(0, PNG_START.length)).toEqual(PNG_START);
      const spec = JSON.parse(readFileSync(join(folder, 'picture.JSON'), 'utf8')) as { $schema: string };
      expect(spec.$schema).toContain('vega-lite');
    }));

  test('set-up, mix, trial and seed are those asked for', () =>
    inFolder(async (folder) => {
      const draw = async (...more: readonly string[]): Promise<string> => {
        const args = ['chart', FIRST, 'story', '--out', 'story.json', ...more];
        const { code, stderr } = await gravelbar(args, { cwd: folder });
        expect(code).toBe(0);
        return stderr + readFileSync(join(folder, 'story.json'), 'utf8');
      };
      const plain = await draw();
      expect(plain).toContain(
        'wrote story.json: story of soft 9 psi on half rough, trial 0 (--setup and --mix choose)\n',
      );
      const chosen = await draw('--setup', 'rigid 25 psi', '--mix', 'half rough', '--trial', '3');
      expect(chosen).toContain('wrote story.json: story of rigid 25 psi on half rough, trial 3\n');
      expect(await draw('--seed', 'other')).not.toBe(plain);
    }));

  test('life goes on from the tires of today, unless these are left out or another pairing is asked for', () =>
    inFolder(async (folder) => {
      const today = { setup: 'soft 9 psi', mix: 'half rough', flightHours: '20 h', readings: [] };
      const first = JSON.parse(readFileSync(FIRST, 'utf8')) as Record<string, unknown>;
      writeFileSync(join(folder, 'mine.json'), JSON.stringify({ ...first, $schema: undefined, today }));
      const draw = async (...more: readonly string[]): Promise<readonly [said: string, spec: string]> => {
        const args = ['chart', 'mine.json', 'life', '--trials', '8', '--out', 'life.json', ...more];
        const { code, stderr } = await gravelbar(args, { cwd: folder });
        expect(code).toBe(0);
        return [stderr, readFileSync(join(folder, 'life.json'), 'utf8')];
      };
      const [said, spec] = await draw();
      expect(said).toContain(
        'life of soft 9 psi on half rough (--setup and --mix choose), with the tires of today (--no-today leaves them out)\n',
      );
      expect(spec).toContain('your tires from today');
      for (const more of [['--no-today'], ['--setup', 'rigid 25 psi']]) {
        const [saidWithout, without] = await draw(...more);
        expect(saidWithout).not.toContain('today');
        expect(without).not.toContain('your tires from today');
      }
    }));

  test.each([
    [['mapp', '--out', 'x.svg'], 'there is no chart named "mapp"; did you mean "map"? There are: '],
    [['constructor', '--out', 'x.svg'], 'there is no chart named "constructor". There are: '],
    [['map', '--out', 'x.pdf'], 'cannot write PDF for x.pdf: its name must end in .svg, .png, .json'],
    [
      ['tread', '--setup', 'sofft 9 psi', '--out', 'x.svg'],
      'there is no set-up named "sofft 9 psi"; did you mean "soft 9 psi"?',
    ],
    [
      ['tread', '--mix', 'smooth', '--out', 'x.svg'],
      'there is no runway mix named "smooth"; there are: half rough',
    ],
    [['map', '--out', 'no/where/x.svg'], 'cannot write no/where/x.svg: the folder'],
    [['map'], "required option '--out <picture>' not specified"],
    [['map', '--trials', '1', '--out', 'x.svg'], 'trials is 1; it must be a whole number from 2'],
  ])('chart %j is refused with a reason, and leaves nothing behind', (args, reason) =>
    inFolder(async (folder) => {
      const { code, stdout, stderr } = await gravelbar(['chart', FIRST, ...args], { cwd: folder });
      expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
      expect(stderr).toContain(`gravelbar: ${reason}`);
      expect(listing(folder)).toEqual([]);
    }),
  );
});
