import { valueText, type Problem } from '../problems.js';
import type { CsvTable } from './csv-table.js';
import type { TableFile } from './logbook-schema.js';
import { choiceText, didYouMean, isBare, readUnit, type ColumnUnit } from './read-cell.js';
import { RECORD_TABLES, type ColumnSpec, type TableName } from './table-columns.js';
import { columnUnits, likelyUnit } from './unit-words.js';

/** Words of the log by column. */
export type Words = Readonly<Record<string, Readonly<Record<string, string>>>>;

type Unplaced = Omit<Problem, 'file' | 'line' | 'column'>;
/** Makes a problem of the file that describes the log, at a path under the table. */
export type ProblemOfTable = (path: readonly string[], details: Omit<Unplaced, 'path'>) => Problem;

/** A column of a table as found in its file. */
export interface FoundColumn {
  readonly name: string;
  readonly spec: ColumnSpec;
  readonly header: string;
  readonly unit: ColumnUnit | null;
  /** Place in the row, or -1 for a value that is always the same. */
  readonly index: number;
  readonly words: ReadonlyMap<string, string>;
}

/** `groove [mm]` and `groove (mm)`: name and unit. */
const HEADER = /^(.*?)\s*(?:\[([^\]]*)\]|\(([^)]*)\))?$/;

function splitHeader(header: string): { name: string; unit: string | null } {
  const parts = HEADER.exec(header);
  return { name: parts?.[1]?.toLowerCase() ?? header, unit: parts?.[2] ?? parts?.[3] ?? null };
}

/** Where the columns of a table stand in its file. */
export class ColumnFinder {
  readonly found: FoundColumn[] = [];
  private readonly specs: Readonly<Record<string, ColumnSpec>>;
  private readonly taken = new Set<number>();
  private readonly table: TableFile;
  private readonly headers: readonly string[];
  private readonly headerLine: number;
  private readonly words: Words;
  private readonly problems: Problem[];
  private readonly ofTable: ProblemOfTable;

  constructor(
    table: TableFile,
    tableName: TableName,
    { headers, headerLine }: Pick<CsvTable, 'headers' | 'headerLine'>,
    words: Words,
    problems: Problem[],
    ofTable: ProblemOfTable,
  ) {
    this.table = table;
    this.headers = headers;
    this.headerLine = headerLine;
    this.words = words;
    this.problems = problems;
    this.ofTable = ofTable;
    this.specs = RECORD_TABLES[tableName];
    if (this.wrongDelimiter()) return;
    for (const header of table.ignore ?? []) this.ignore(header);
    this.checkMapping();
    for (const [name, spec] of Object.entries(this.specs)) this.find(name, spec);
    this.tellTheRest();
  }

  private tell(problem: Unplaced): void {
    this.problems.push({ file: this.table.file, line: this.headerLine, ...problem });
  }

  /** One column with another delimiter in its header: the file is cut at the wrong places. */
  private wrongDelimiter(): boolean {
    const [header = ''] = this.headers;
    const other = /[,;\t]/.exec(header)?.[0];
    if (this.headers.length > 1 || other === undefined) return false;
    const meant = other === '\t' ? 'tab' : other;
    this.tell({
      path: '',
      found: valueText(header),
      allowed: `expected cells with ${JSON.stringify(this.table.delimiter)} between them`,
      suggestion: `set "delimiter": ${JSON.stringify(meant)} for this table`,
    });
    return true;
  }

  private ignore(header: string): void {
    const index = this.headers.indexOf(header);
    if (index >= 0) this.taken.add(index);
    else this.problems.push(this.ofTable(['ignore'], this.noSuchHeader(header)));
  }

  private noSuchHeader(header: string): Omit<Unplaced, 'path'> {
    const suggestion = didYouMean(header, this.headers);
    const details = { found: valueText(header), allowed: `expected a header of ${this.table.file}` };
    return suggestion === undefined ? details : { ...details, suggestion };
  }

  private checkMapping(): void {
    const names = Object.keys(this.specs);
    for (const part of ['columns', 'always'] as const) {
      for (const name of Object.keys(this.table[part] ?? {})) {
        if (names.includes(name)) continue;
        const suggestion = didYouMean(name, names);
        const details = { found: valueText(name), allowed: `expected ${choiceText(names)}` };
        this.problems.push(
          this.ofTable([part, name], suggestion === undefined ? details : { ...details, suggestion }),
        );
      }
    }
  }

  private find(name: string, spec: ColumnSpec): void {
    const mapped = this.table.columns?.[name];
    const header = typeof mapped === 'string' ? mapped : mapped?.header;
    const indexes = this.headers.flatMap((text, index) =>
      (header === undefined ? !this.taken.has(index) && splitHeader(text).name === name : text === header)
        ? [index]
        : [],
    );
    const mappedUnit = typeof mapped === 'string' ? undefined : mapped?.unit;
    const words = new Map(Object.entries(this.words[name] ?? {}));
    const always = this.table.always?.[name];
    const [index] = indexes;
    if (index !== undefined && always !== undefined) {
      const details = {
        found: valueText(always),
        allowed: `not with a column ${this.headers[index]!} in the file`,
      };
      this.problems.push(this.ofTable(['always', name], details));
    } else if (indexes.length > 1) {
      const allowed = 'expected one column of that name';
      this.tell({ path: name, found: `${indexes.length} columns`, allowed });
    } else if (index !== undefined) {
      this.taken.add(index);
      const unit = this.unitOf(name, spec, this.headers[index]!, mappedUnit);
      if (unit !== undefined)
        this.found.push({ name, spec, header: this.headers[index]!, unit, index, words });
    } else if (header !== undefined) {
      this.problems.push(this.ofTable(['columns', name], this.noSuchHeader(header)));
      // A header that is wrong does not hide a unit that is wrong too.
      if (mappedUnit !== undefined) this.unitOf(name, spec, header, mappedUnit);
    } else if (always !== undefined) {
      this.found.push({ name, spec, header: name, unit: null, index: -1, words });
    } else if (spec.required) {
      const details = {
        path: name,
        found: 'no such column',
        allowed: `expected a column "${exampleHeader(name, spec)}"`,
      };
      const suggestion = didYouMean(
        name,
        this.headers.map((text) => splitHeader(text).name),
      );
      this.tell(suggestion === undefined ? details : { ...details, suggestion });
    }
  }

  /** The unit of a number column, null where it needs none; undefined where it is told as a problem. */
  private unitOf(
    name: string,
    spec: ColumnSpec,
    header: string,
    mapped: string | undefined,
  ): ColumnUnit | null | undefined {
    if (spec.kind !== 'number') return null;
    const text = mapped ?? splitHeader(header).unit ?? '';
    const unit = text === '' ? null : readUnit(text, spec);
    if (unit !== null || (text === '' && isBare(spec))) return unit;
    const units = columnUnits(spec);
    const expected =
      units.length === 0 ? 'expected a bare number, without a unit' : `expected ${choiceText(units)}`;
    const likely = text === '' ? null : likelyUnit(text, spec);
    const suggestion = likely === null ? {} : { suggestion: `did you mean ${JSON.stringify(likely)}?` };
    if (mapped !== undefined) {
      const details = {
        found: valueText(text),
        allowed: `that unit is not known: ${expected}`,
        ...suggestion,
      };
      this.problems.push(this.ofTable(['columns', name, 'unit'], details));
      return undefined;
    }
    const allowed =
      units.length === 0
        ? expected
        : text === ''
          ? `expected a unit in the header, such as "${exampleHeader(name, spec)}": ${choiceText(units)}`
          : `its unit ${valueText(text)} is not known: ${expected}`;
    this.tell({ path: name, found: valueText(header), allowed, ...suggestion });
    return undefined;
  }

  /** Nothing is dropped in silence: columns that nobody asked for are told too. */
  private tellTheRest(): void {
    const free = Object.keys(this.specs).filter((name) => !this.found.some((column) => column.name === name));
    const known = new Set(Object.keys(this.specs));
    this.headers.forEach((header, index) => {
      if (this.taken.has(index) || known.has(splitHeader(header).name)) return;
      const meant = didYouMean(splitHeader(header).name, free);
      this.tell({
        path: header,
        found: 'a column that is not known',
        allowed: `expected ${choiceText(Object.keys(this.specs))}`,
        suggestion: meant ?? 'name it under "columns" or "ignore" of this table',
      });
    });
  }
}

function exampleHeader(name: string, spec: ColumnSpec): string {
  if (spec.kind !== 'number') return name;
  const [unit] = columnUnits(spec);
  return unit === undefined || isBare(spec) ? name : `${name} [${unit}]`;
}
