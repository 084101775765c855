import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import type TypeScript from 'typescript';
import { beforeAll, describe, expect, test } from 'vitest';
import { inRepositoryFolder, root } from '../support/command.js';

/** TypeScript 5.0.4, the compiler of the notebook kernel that the library has to serve; it resolves the old way. */
const ts = createRequire(import.meta.url)('typescript-5.0') as typeof TypeScript;

/** A program that uses the main functions, as in a notebook. */
const CONSUMER = `
import * as gravelbar from 'gravelbar';
import {
  allPairings, compileScenario, comparisonTable, formatQuantity, kaplanMeier, lifeCurves, NonFiniteError, pairingRows,
  parseQuantity, readScenario, replay, runScenario, scenarioJsonSchema, ScenarioError, simulate, summarize, trialFrame,
  type CompiledScenario, type Frame, type PairingSummary, type Problem, type Run, type RunResult, type Simulation,
} from 'gravelbar';

export async function everyday(file: string): Promise<number | null> {
  let scenario: CompiledScenario;
  try {
    const read = readScenario(file);
    const speed: number = read.scenario.airplanes['x']!.stallSpeed;
    const kind: 'fixed' | 'lognormal' | 'normal' | 'uniform' | 'triangular' =
      read.scenario.assumptions.abradability.kind;
    scenario = compileScenario({ ...read.scenario, name: kind + String(speed) });
  } catch (error) {
    if (error instanceof ScenarioError) {
      const problems: readonly Problem[] = error.problems;
      const line: number | undefined = problems[0]?.line;
      return line ?? null;
    }
    throw error;
  }
  const { result, simulation }: Run = await runScenario(scenario, {
    trials: 100, precision: 0.05, signal: new AbortController().signal,
    onProgress: ({ finishedTrials, totalTrials }) => { console.log(finishedTrials / totalTrials); },
  });
  const plain: RunResult = JSON.parse(JSON.stringify(result));
  const part: Simulation = await simulate(scenario, { pairings: allPairings(scenario).slice(0, 1) });
  const landings: Int32Array = simulation.pairings[0]!.columns.lifeLandings;
  const hazard: Float64Array = part.pairings[0]!.columns.flatsHazard;
  const survival: Float64Array = kaplanMeier(landings, new Uint8Array(landings.length)).survival;
  const day: Float64Array = scenario.calendar.day;
  const summaries: PairingSummary[] = summarize(scenario, simulation);
  const cell: string | number | null | undefined = pairingRows(plain)[0]?.['life_hours_p50'];
  const frame: Frame = await trialFrame(scenario, simulation, { setup: 'a', columns: ['mix', 'life_hours'] });
  const means: Frame = frame.groupby(['mix']).col(['life_hours']).mean();
  const rest: Frame = frame.query(frame.column('life_hours').gt(means.column('life_hours_mean').max())).resetIndex();
  const incidence: Float64Array = lifeCurves(simulation.pairings[0]!).incidence.byCause[0]!.incidence;
  const worn: number = replay(scenario, { trial: 0, setup: 'a', mix: 'b' }).landings[0]!.wheels[0]!.grooveLeftM;
  const pressure = parseQuantity('25 psi', 'pressure');
  const text: string = pressure.ok ? formatQuantity(pressure.si, 'pressure', 'bar') : pressure.reason;
  const schema: { [key: string]: unknown } = scenarioJsonSchema();
  const place: number = new NonFiniteError({
    seed: 's', trial: 1, landing: 2, pairing: 'p', quantity: 'q', value: NaN }).place.trial;
  console.log(comparisonTable(plain), rest.shape[0], hazard, survival, day, cell, incidence, worn, text, schema, place, gravelbar.version());
  return summaries[0]!.life.hours.p50;
}
`;

/** Each must be refused; with a type that has become `any` it would pass. */
const WRONG: readonly (readonly [what: string, statement: string])[] = [
  ['an unknown export', `gravelbar.simulateEverything;`],
  ['a file name that is a number', `gravelbar.readScenario(3);`],
  ['a dimension that does not exist', `gravelbar.parseQuantity('3 psi', 'pressur');`],
  ['an unknown option', `void gravelbar.runScenario(scenario, { trails: 3 });`],
  ['trials as text', `void gravelbar.runScenario(scenario, { trials: '3' });`],
  ['a field of the scenario that does not exist', `read.scenario.habits.chekEvery;`],
  ['a quantity of the scenario as text', `const t: string = read.scenario.habits.checkEvery;`],
  ['an assumption as a number', `const n: number = read.scenario.habits.sinkRate;`],
  ['another gear', `read.scenario.airplanes['x']!.gear === 'both';`],
  ['a column that does not exist', `run.simulation.pairings[0]!.columns.lifeLanding;`],
  ['a column of another kind', `const c: Float64Array = run.simulation.pairings[0]!.columns.lifeCause;`],
  ['a column as text', `const c: string = run.simulation.pairings[0]!.columns.lifeLandings;`],
  ['a column of surfaces as text', `const c: string = run.simulation.pairings[0]!.surfaceWornM3;`],
  [
    'a survival curve as text',
    `const c: string = gravelbar.kaplanMeier(new Int32Array(1), new Uint8Array(1)).survival;`,
  ],
  ['days of the calendar as text', `const c: string = scenario.calendar.day;`],
  ['a value of a column as text', `const c: string = run.simulation.pairings[0]!.columns.flatsHazard[0]!;`],
  [
    'a curve of ends as text',
    `const c: string = gravelbar.lifeCurves(run.simulation.pairings[0]!).incidence.time;`,
  ],
  ['a life that may be unknown as a number', `const n: number = run.result.pairings[0]!.life.hours.p50;`],
  ['a change of the result', `run.result.trials = 3;`],
  ['a removal cause that does not exist', `run.result.pairings[0]!.removalCauses.worm;`],
  [
    'a table of trials with an unknown choice',
    `void gravelbar.trialFrame(scenario, run.simulation, { set: 'a' });`,
  ],
  [
    'rows filtered twice without new numbers',
    `frame.query(frame.column('x').gt(1)).query(frame.column('x').lt(2));`,
  ],
  ['a column of a frame as text', `const c: string = frame.column('x');`],
  ['pieces of CSV as one text', `const c: string = gravelbar.trialsCsv(scenario, run.simulation);`],
  ['a row cell as a date', `const d: Date = gravelbar.pairingRows(run.result)[0]!['x'];`],
];

const HEAD = `import * as gravelbar from 'gravelbar';
declare const scenario: gravelbar.CompiledScenario;
declare const read: gravelbar.ReadScenario;
declare const run: gravelbar.Run;
declare const frame: gravelbar.Frame;
`;

const SPOILED = 'export declare const table: readonly { readonly deep: (index: number) => any }[];';

/** Errors by file name. */
type Errors = Readonly<Record<string, readonly string[]>>;

let errors: Errors;
let anyPlaces: readonly string[];
let spoiledPlaces: readonly string[];
let exported: readonly string[];

function compile(folder: string, files: Readonly<Record<string, string>>): TypeScript.Program {
  // The old way of resolving does not know self-references: the package is installed beside the programs.
  mkdirSync(join(folder, 'node_modules'));
  symlinkSync(root, join(folder, 'node_modules/gravelbar'), 'dir');
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  const { options } = ts.convertCompilerOptionsFromJson(
    {
      target: 'es2020',
      module: 'commonjs',
      moduleResolution: 'node10',
      strict: true,
      skipLibCheck: true,
      noEmit: true,
      types: ['node'],
      typeRoots: [join(root, 'node_modules/@types')],
    },
    folder,
  );
  return ts.createProgram(
    Object.keys(files).map((name) => join(folder, name)),
    options,
  );
}

function errorsOf(program: TypeScript.Program, names: readonly string[]): Errors {
  const entries = names.map((name) => {
    const file = program.getSourceFiles().find(({ fileName }) => fileName.endsWith(`/${name}`))!;
    const found = [...program.getSyntacticDiagnostics(file), ...program.getSemanticDiagnostics(file)];
    return [
      name,
      found.map(({ messageText }) => ts.flattenDiagnosticMessageText(messageText, '\n')),
    ] as const;
  });
  return Object.fromEntries(entries);
}

/** The compiler leaves it out where a type has no name. */
function symbolOf(type: TypeScript.Type): TypeScript.Symbol | undefined {
  return type.aliasSymbol ?? type.symbol;
}

/** Places in the types of all exports, however deep, that the compiler reads as `any`. */
function findAny(program: TypeScript.Program, ending: string): { names: string[]; places: string[] } {
  const checker = program.getTypeChecker();
  const door = program.getSourceFiles().find(({ fileName }) => fileName.endsWith(ending))!;
  const symbols = checker.getExportsOfModule(checker.getSymbolAtLocation(door)!);
  const places: string[] = [];
  const seen = new Set<TypeScript.Type>();
  const ours = (type: TypeScript.Type): boolean => {
    const declared = symbolOf(type)?.declarations?.[0]?.getSourceFile().fileName;
    return declared === undefined || !/\/node_modules\/(?!gravelbar\/)/.test(declared);
  };
  const visit = (type: TypeScript.Type, place: string): void => {
    if ((type.flags & ts.TypeFlags.Any) !== 0) places.push(place);
    if (seen.has(type)) return;
    seen.add(type);
    if (type.isUnionOrIntersection()) for (const part of type.types) visit(part, place);
    for (const argument of checker.getTypeArguments(type as TypeScript.TypeReference))
      visit(argument, `${place}<>`);
    // What the language and packages declare is theirs; what we put into it was visited.
    if (!ours(type)) return;
    for (const signature of [...type.getCallSignatures(), ...type.getConstructSignatures()]) {
      visit(signature.getReturnType(), `${place}()`);
      for (const parameter of signature.getParameters()) {
        visit(checker.getTypeOfSymbolAtLocation(parameter, door), `${place}(${parameter.name})`);
      }
    }
    if (type.isUnionOrIntersection()) return;
    for (const property of type.getProperties()) {
      visit(checker.getTypeOfSymbolAtLocation(property, door), `${place}.${property.name}`);
    }
  };
  for (const symbol of symbols) {
    const target = (symbol.flags & ts.SymbolFlags.Alias) === 0 ? symbol : checker.getAliasedSymbol(symbol);
    if ((target.flags & ts.SymbolFlags.Value) !== 0)
      visit(checker.getTypeOfSymbolAtLocation(target, door), symbol.name);
    if ((target.flags & ts.SymbolFlags.Type) !== 0)
      visit(checker.getDeclaredTypeOfSymbol(target), symbol.name);
  }
  return { names: symbols.map(({ name }) => name).sort(), places };
}

beforeAll(() =>
  inRepositoryFolder((folder) => {
    const wrong = WRONG.map(([, statement], k) => [`wrong-${k}.ts`, `${HEAD}${statement}\n`] as const);
    const files = {
      'consumer.ts': CONSUMER,
      'nothing.ts': HEAD,
      'spoiled.ts': SPOILED,
      ...Object.fromEntries(wrong),
    };
    const program = compile(folder, files);
    errors = errorsOf(program, Object.keys(files));
    ({ names: exported, places: anyPlaces } = findAny(program, '/dist/index.d.ts'));
    spoiledPlaces = findAny(program, '/spoiled.ts').places;
    return Promise.resolve();
  }),
);

describe('the declarations, read by TypeScript 5.0 with node10 resolution,', () => {
  test('are read by that version', () => {
    expect(ts.version).toBe('5.0.4');
    expect(exported).toContain('runScenario');
    expect(exported).toContain('RunResult');
  });

  test('let a program use the main functions', () => {
    expect(errors['consumer.ts']).toEqual([]);
    expect(errors['nothing.ts']).toEqual([]);
  });

  test.each(WRONG.map(([what], k) => [what, k] as const))('refuse %s', (_, k) => {
    expect(errors[`wrong-${k}.ts`]).toHaveLength(1);
  });

  test('hold no type that has become `any`', () => {
    expect(anyPlaces).toEqual([]);
    // The search sees what it looks for.
    expect(spoiledPlaces).toEqual(['table<>.deep()']);
  });
});
