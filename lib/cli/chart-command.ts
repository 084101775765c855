import { printable } from '../present/words.js';
import { CancelledError } from '../problems.js';
import { chartKind, showsToday, type ChartKind } from '../report/catalogue.js';
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
  /** False leaves out the tires of today. */
  readonly today?: boolean;
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
  const pairing = pairingOf(compiled, kind, options);
  prepareFile(options.out);
  const line = progressLine(process.stderr);
  try {
    const chart = await kind.draw(compiled, {
      ...pairing,
      withToday: options.today,
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
    process.stderr.write(
      `wrote ${printable(options.out)}: ${name}${subject(kind, pairing, options)}${todayText(compiled, kind, pairing, options)}\n`,
    );
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

/** The pairing asked for, else that of the tires of today where they are drawn, else the first of the scenario. */
function pairingOf(
  { setups, mixes, today }: CompiledScenario,
  { drawsToday = false }: ChartKind,
  { setup, mix, today: withToday = true }: ChartCommandOptions,
): PairingNames {
  const usual = drawsToday && withToday && setup === undefined && mix === undefined ? today : null;
  if (usual !== null) return { setup: usual.setup, mix: usual.mix };
  return {
    setup: setups[setup === undefined ? 0 : indexOfName('set-up', setup, setups)]!.name,
    mix: mixes[mix === undefined ? 0 : indexOfName('runway mix', mix, mixes)]!.name,
  };
}

/** Whether the tires of today are on the chart, and how to leave them out. */
function todayText(
  compiled: CompiledScenario,
  { drawsToday = false }: ChartKind,
  pairing: PairingNames,
  { today }: ChartCommandOptions,
): string {
  return drawsToday && showsToday(compiled, { ...pairing, withToday: today })
    ? ', with the tires of today (--no-today leaves them out)'
    : '';
}

/** What the chart is of, and how to ask for another one where nothing was asked for. */
function subject({ scope }: ChartKind, { setup, mix }: PairingNames, options: ChartCommandOptions): string {
  if (scope === 'all') return '';
  if (scope === 'mix') return ` on ${printable(mix)}${options.mix === undefined ? ' (--mix chooses)' : ''}`;
  const open = options.setup === undefined || options.mix === undefined;
  const trial = scope === 'trial' ? `, trial ${options.trial ?? 0}` : '';
  return ` of ${printable(setup)} on ${printable(mix)}${trial}${open ? ' (--setup and --mix choose)' : ''}`;
}
