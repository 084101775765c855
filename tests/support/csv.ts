/**
 * Fields of CSV text by RFC 4180, section 2: quoted fields may hold commas, line ends and doubled quotes. Lines end with a
 * line feed. A field that is empty and not quoted is null.
 */
export function parseCsv(text: string): (string | null)[][] {
  const rows: (string | null)[][] = [];
  let row: (string | null)[] = [];
  const field = /"((?:[^"]|"")*)"([,\n])|([^",\n]*)([,\n])/gy;
  while (field.lastIndex < text.length) {
    const at = field.lastIndex;
    const match = field.exec(text);
    if (match === null) throw new Error(`no field at ${at}: ${JSON.stringify(text.slice(at, at + 40))}`);
    const [, quoted, quotedEnd, plain, plainEnd] = match;
    row.push(quoted === undefined ? plain || null : quoted.replaceAll('""', '"'));
    if ((quotedEnd ?? plainEnd) === ',') continue;
    rows.push(row);
    row = [];
  }
  if (row.length > 0) throw new Error('the last line has no end');
  return rows;
}
