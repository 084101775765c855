import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { gravelbar, inFolder } from '../support/command.js';

const RIGID = {
  mainTire: 'rigid 29 deep',
  mainPressure: '25 psi',
  thirdTire: 'nose 8.50-6',
  thirdPressure: '25 psi',
};
const MIX = { 'home pavement': '100 %' };

const SETUP_NAMES = [
  '=1+1',
  '+cmd|calc',
  '-2+3',
  '@SUM(A1)',
  '<script>alert(1)</script>',
  'comma, "quote" and \u2019',
  '雪上滑走用大型低圧タイヤ一式'.repeat(4),
  '🛞🛞 tire',
  'e\u0301te\u0301',
  'x'.repeat(60),
  'a long name with blanks that does not fit into one line ....',
  'a long name with blanks that does not fit into one line, too',
];
const TITLE = `\u001b[31mRed\u001b]0;title\u0007 \u202egnp.exe \u200b\r\n${'雪'.repeat(30)}${'y'.repeat(50)}`;

const scenario = {
  name: TITLE,
  setups: Object.fromEntries(SETUP_NAMES.map((name) => [name, RIGID])),
  mixes: { ['雪'.repeat(60)]: MIX },
  run: { trials: 4, seed: `\u001b[2J${'s'.repeat(95)}` },
};

/** Columns by the Unicode Standard Annex 11 class of the characters used here: wide ones take two, marks none. */
function columns(line: string): number {
  return Array.from(line).reduce((sum, character) => {
    if (character === '\u0301') return sum;
    return sum + (/[\u3040-\u30ff\u4e00-\u9fff]|🛞/u.test(character) ? 2 : 1);
  }, 0);
}

/** Fields of one line of CSV by RFC 4180. */
function fields(line: string): string[] {
  return Array.from(line.matchAll(/("(?:[^"]|"")*"|[^,]*)(?:,|$)/g), ([, field]) =>
    field!.startsWith('"') ? field!.slice(1, -1).replaceAll('""', '"') : field!,
  );
}

test('strange names keep the table in shape, and formulas do not reach a spreadsheet', () =>
  inFolder(async (folder) => {
    writeFileSync(join(folder, 'scenario.json'), JSON.stringify(scenario));
    const args = ['run', 'scenario.json', '--workers', '1', '--csv', 'pairings.csv'];
    const { code, stdout, stderr } = await gravelbar(args, { cwd: folder });
    expect({ code, stderr }).toEqual({ code: 0, stderr: 'wrote pairings.csv\n' });
    expect(stdout).not.toMatch(/[^\P{Cc}\n]|\p{Cf}|\p{Zl}|\p{Zp}/u);
    const lines = stdout.split('\n');
    expect(lines.filter((line) => columns(line) > 100)).toEqual([]);
    expect(stdout).toContain('[31mRed ]0;title   gnp.exe');
    // Rows end where the columns end, whatever the name.
    const block = lines.slice(lines.findIndex((line) => /^-+$/.test(line)) + 1);
    const rows = block.slice(0, block.indexOf('')).filter((line) => / %$/.test(line));
    expect(rows).toHaveLength(SETUP_NAMES.length);
    expect(new Set(rows.map(columns)).size).toBe(1);
    // Names that start alike are told apart.
    for (const name of ['  line ....\n', '  line, too\n']) expect(stdout).toContain(name);

    const csv = readFileSync(join(folder, 'pairings.csv'), 'utf8');
    const names = csv
      .trimEnd()
      .split('\n')
      .slice(1)
      .map((line) => fields(line)[0]);
    expect(names).toEqual(SETUP_NAMES.map((name) => (/^[=+@-]/.test(name) ? `'${name}` : name)));
  }));

test('check and error messages show control characters of a title or a file name as blanks or codes', () =>
  inFolder(async (folder) => {
    const file = 'es\u001b[31mcape.json';
    writeFileSync(join(folder, file), JSON.stringify(scenario));
    const checked = await gravelbar(['check', file], { cwd: folder });
    expect(checked.code).toBe(0);
    expect(checked.stdout).not.toMatch(/[^\P{Cc}\n]/u);
    writeFileSync(join(folder, file), '{"x\u2028": 1}');
    const refused = await gravelbar(['check', file], { cwd: folder });
    expect(refused.code).toBe(1);
    expect(refused.stderr).not.toMatch(/[^\P{Cc}\n]|\p{Zl}/u);
    expect(refused.stderr).toContain('es\\u001b[31mcape.json');
    expect(refused.stderr).toContain('x\\u2028');
  }));
