import { z } from 'zod';
import { sourceText } from '../quantity.js';

/** More than a fit makes; a file of more than 4 MB is not read anyhow. */
const MOST_DRAWS = 20_000;
const MOST_COLUMNS = 400;

/** Assumptions fitted to records together: draws in which what belongs together stays together. */
export const fittedSchema = z
  .strictObject({
    source: sourceText,
    note: z.string().max(2000).describe('Remark; says so if the records are invented.').optional(),
    columns: z
      .array(
        z.strictObject({
          assumption: z
            .string()
            .min(3)
            .max(200)
            .describe('Place of an assumption: "surfaces.gravel.wearFactor".'),
          unit: z.string().max(20).describe('Unit of the numbers; empty for bare shares.'),
        }),
      )
      .min(1)
      .max(MOST_COLUMNS)
      .describe('Assumptions that were fitted, in the order of the numbers of a draw.'),
    draws: z
      .array(z.array(z.number()).describe('Numbers of one draw.'))
      .min(2)
      .max(MOST_DRAWS)
      .describe('Draws, equally likely.'),
  })
  .describe(
    'Assumptions fitted to records together. Each trial takes one draw, for all of them at once; their own entries tell each for itself. An assumption stated in a later file is taken from there.',
  );
