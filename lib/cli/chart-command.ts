import { printable } from '../present/words.js';
import { CancelledError } from '../problems.js';
import { chartKind, type ChartKind } from '../report/catalogue.js';
import { compileScenario, type CompiledScenario } from '../scenario/compile.js';
import type { Scenario } from '../scenario/schema/index.js';
import { indexOfName } from '../simulate/names.js';
import { STOPPED_EXIT_CODE } from './exit-codes.js';
import { prepareFile, writeWhole } from './output.js';
import { pictureFormat } from './picture.js';
import { progressLine } from './progress.js';

/** Options of `gravelbar chart`. */
export interface ChartCommandOptions {
  readonly out: string;
  readonly setup?: string;
  readonly mix?: string;
  readonly trial?: number;
  readonly trials?: number;
  readonly seed?: string;
  readonly workers?: number;
}

/**
 * `gravelbar chart FILE NAME --out PICTURE`: draws one chart of a scenario.
 *
 * @param scenario the scenario of the file.
 * @param name name of the chart.
 * @param options from the command line.
 * @param signal stops the work; nothing is written then.
 * @returns exit code: 0, or 130 if it was stopped.
 * @throws UsageError, NonFiniteError; nothing is left behind then.
 */
export async function chartCommand(
  scenario: Scenario,
  name: string,
  options: ChartCommandOptions,
  signal: AbortSignal,
): Promise<number> {
  const kind = chartKind(name);
  const format = pictureFormat(options.out);
  const { seed = scenario.run.seed } = options;
  const compiled = compileScenario({ ...scenario, run: { ...scenario.run, seed } });
  const pairing = pairingOf(compiled, options);
  prepareFile(options.out);
  const line = progressLine(process.stderr);
  try {
    const chart = await kind.draw(compiled, {
      ...pairing,
      trial: options.trial ?? 0,
      trials: options.trials,
      workers: options.workers,
      signal,
      onProgress: (progress) => {
        line.update(progress);
      },
    });
    line.clear();
    writeWhole(options.out, await format(chart));
    process.stderr.write(`wrote ${printable(options.out)}: ${name}${subject(kind, pairing, options)}\n`);
    return 0;
  } catch (error) {
    line.clear();
    if (!(error instanceof CancelledError)) throw error;
    process.stderr.write(`gravelbar: ${error.message}; nothing is drawn\n`);
    return STOPPED_EXIT_CODE;
  }
}

interface PairingNames {
  readonly setup: string;
  readonly mix: string;
}

/** The pairing asked for, else the first of the scenario. */
function pairingOf({ setups, mixes }: CompiledScenario, { setup, mix }: ChartCommandOptions): PairingNames {
  return {
    setup: setups[setup === undefined ? 0 : indexOfName('set-up', setup, setups)]!.name,
    mix: mixes[mix === undefined ? 0 : indexOfName('runway mix', mix, mixes)]!.name,
  };
}

/** What the chart is of, and how to ask for another one where nothing was asked for. */
function subject({ scope }: ChartKind, { setup, mix }: PairingNames, options: ChartCommandOptions): string {
  if (scope === 'all') return '';
  if (scope === 'mix') return ` on ${printable(mix)}${options.mix === undefined ? ' (--mix chooses)' : ''}`;
  const open = options.setup === undefined || options.mix === undefined;
  const trial = scope === 'trial' ? `, trial ${options.trial ?? 0}` : '';
  return ` of ${printable(setup)} on ${printable(mix)}${trial}${open ? ' (--setup and --mix choose)' : ''}`;
}
