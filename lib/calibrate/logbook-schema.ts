import { z } from 'zod';

const LONGEST_TEXT = 300;
const text = (description: string): z.ZodString => z.string().min(1).max(LONGEST_TEXT).describe(description);

export const columnSchema = z
  .union([
    text('Header of the column in the file.'),
    z.strictObject({
      header: text('Header of the column in the file.'),
      unit: text('Unit of the column, where the header has none: "mm", "1/32 in", "psi".').optional(),
    }),
  ])
  .describe('Where a column of ours stands in the file.');

const tableSchema = z
  .strictObject({
    file: text('CSV file, relative to this one.'),
    columns: z
      .record(z.string(), columnSchema)
      .describe('Headers that differ from our column names: our name, then that of the file.')
      .optional(),
    always: z
      .record(z.string(), text('The value; numbers with their unit.'))
      .describe('Columns that the file lacks because the value is always the same: { "airplane": "mine" }.')
      .optional(),
    ignore: z.array(z.string()).describe('Headers of columns that are not to be read.').optional(),
    delimiter: z.enum([',', ';', 'tab']).describe('What stands between cells.').default(','),
    decimal: z.enum(['.', ',']).describe('Decimal sign of numbers.').default('.'),
  })
  .describe('One table of records.');

/** The file that describes a log: its tables, their columns and the words in them. */
export const logbookSchema = z
  .strictObject({
    $schema: z.string().describe('Path of this schema, for editors.').optional(),
    name: text('Name of the log.'),
    note: text('Remark; say so if the data is invented.').optional(),
    firstDay: text('First day of the log, as an ISO date: 2023-05-01.'),
    lastDay: text('Last day of the log: nothing in it may be later.'),
    spreadPeriods: z
      .boolean()
      .describe('Landings of a row over several days may be spread evenly over them.')
      .default(false),
    leastCutDepth: text(
      'Cuts shallower than this are not written down: "2 mm". Left out: not known, so that cuts tell no rate.',
    ).optional(),
    words: z
      .record(z.string(), z.record(z.string(), text('Our word.')))
      .describe(
        'Words of the log by column: { "strip": { "KXX1": "valley gravel" }, "cause": { "bald": "worn" } }.',
      )
      .optional(),
    tires: tableSchema,
    readings: tableSchema.optional(),
    flights: tableSchema.optional(),
    pressure: tableSchema.optional(),
    cuts: tableSchema.optional(),
  })
  .describe('A log of tires in service.');

/** A log file as checked. */
export type LogbookFile = z.infer<typeof logbookSchema>;
/** One table of it. */
export type TableFile = z.infer<typeof tableSchema>;
