import { ONE_PAIR_IN, unseenGrowthText } from '../calibrate/check-readings.js';
import { TODAY_DEFAULTS } from '../scenario/schema/today.js';

/** Prose of the reference page of records; what columns and fields there are comes from the code that reads them. */

export const INTRODUCTION = `# Records of tires in service

Written by \`gravelbar schema --records --page\` from the code that reads records; change that, not this page.

A log is one JSON file that names up to five CSV files (tables) and says what their columns mean. From it gravelbar tells
how long tires lasted (\`gravelbar lives\`) and updates the assumptions of a scenario (\`gravelbar fit\`). Nothing is guessed
and nothing is dropped: a log is read whole, or every bad row is named.

1. Start a log: \`gravelbar new --records my-log\` writes the JSON file, a small CSV file for each table with units in the
   headers, and the schema for editors. Or describe the CSV files that you have: see the worked example below.
2. Check it: \`gravelbar check my-log/logbook.json --scenario mine.json\` says what it holds, or names every bad row.
   The scenario is the one whose set-ups, tires, strips and surfaces the log names; without it names are not checked.
3. See the lives: \`gravelbar lives my-log/logbook.json --unit hours\`.
4. Fit: \`gravelbar fit my-log/logbook.json --scenario mine.json --out fitted.json\`.

Only the table of tires must be there. Lives need flights, or landings or hours stated with each tire. Wear needs
readings and flights, leaks need pressure checks, the rate of cuts needs cuts and the depth from which on they are
written down.

Records describe what happened; they decide nothing about a tire. Approved data, rated loads and speeds, the maintenance
manual and a licensed mechanic decide when a tire comes off; local rules apply.`;

export const MAPPING = `### Columns, words and units of your own files

- **Columns.** A column is found by its name in the header, with or without its unit: \`groove [mm]\` or \`groove (mm)\`,
  in capitals or not, in any order. Where your header differs, say so under \`columns\`: our name, then your header as it
  stands there. A column that nobody asked for is refused until it stands under \`ignore\`.
- **Units.** A column of numbers that need a unit has it in the header, or under \`columns\` as
  \`{ "header": "Depth", "unit": "1/32 in" }\`. Cells hold the number alone. A gauge in 32nds has the unit \`1/32 in\`; with
  the unit \`in\`, fractions such as 5/32 are read too. In a column of 32nds a fraction is refused: 7 is written for 7/32.
  A fraction has whole numbers above and below: half a 32nd is \`1/64 in\`, not 0.5/32 in.
- **Always.** A column that your file lacks because its value never changes stands under \`always\`, numbers with their
  unit: \`{ "airplane": "the red one", "error": "0.15 mm" }\`.
- **Words.** \`words\` turns words of your log into ours, by column and for all tables: \`{ "cause": { "bald": "worn" } }\`.
- **Signs.** \`delimiter\` is ",", ";" or "tab"; \`decimal\` is "." or ",".`;

export const RULES = `## Rules

- **Text.** CSV as RFC 4180 has it, in UTF-8, one header line; blank lines are passed over.
- **Dates** are ISO dates, 2024-05-31. Other forms are refused, as nobody can tell 06/07 from 07/06.
- **Blank** means not known, or what the column says about blank cells. "n/a" or "-" is no date, number or word of ours.
- **Order within a day.** Work on tires (fitting, reading, checking, removing) comes after that day's flights. A tire flies
  from the day after it was fitted up to and including the day it came off.
- **Days of the log.** Nothing may lie before \`firstDay\` or after \`lastDay\`; without flights, tires may have been fitted
  before. A tire that had flown before is taken up on \`firstDay\` (fitted that day) with its landings before; its life is
  then seen from there on (delayed entry).
- **Rows over several days** (\`date\` and \`to date\`) must not be cut in two by work on a tire, unless \`spreadPeriods\` is
  true: then their landings are spread evenly over their days.
- **Names** are those of the scenario: \`setup\` of "setups", \`class\` of "tires", \`strip\` of "strips", \`surface\` of
  "surfaces".
- **Sizes.** A CSV file may have 50 MB.`;

export const REFUSED = `## What is refused

Every problem is told with file, line and column, what was found, what is allowed and, where it can be guessed, what was
meant. Rows with the same mistake are told once, with their lines.

- Cells: a date that is none or in another form; a word that is none of the list; a blank cell where one is needed; a
  number outside its range or with a unit in the cell; a fraction where whole numbers are counted.
- Columns: one that is missing, twice, unknown or without its unit; a mapping to a header that is not there.
- Tires: a name twice; two tires on one wheel at a time; off before it was on; no cause; several ways to end.
- Links: a tire, airplane, set-up, class, strip or surface that is not known; a reading or check of a tire that was not on.
- Time: a row outside the days of the log; periods that overlap; a row over several days that work cuts in two.
- Twice: the same reading, check or flight again.
- Physics: tread that grows by more than gauge errors explain (five standard errors of the difference; where a reading
  states no error, ${TODAY_DEFAULTS.readingError} is assumed, so that growth below ${unseenGrowthText([])} between two such readings passes); a groove
  deeper than that of a new tire; a tire that failed without a landing; an hour meter that goes back or disagrees with
  the rows.

## What is read with a remark

- Days between rows over several days that no row covers: the airplane is taken not to have flown.
- A tire in service without a landing since it was fitted.
- Landings stated for a tire that differ by more than 5 % from those flown: what is stated goes before.
- Readings without an error: which one is assumed, and how much growth it hides.
- Tread that seems to grow by two to five standard errors: chance alone does it to one pair of readings in ${ONE_PAIR_IN} at most.
- A tire taken off as worn that had clearly more groove than the limit of the scenario when it was last read, even if it
  wore twice as fast since.
- Cuts alike in tire, day, depth and place: each counts as a cut of its own.
- Landings with neither strip nor surface: wear on them cannot be told by surface.`;

export const LIBRARY = `## In a program

\`\`\`ts
import { fitLife, fittedRemainingLife, probabilityPlot, readLogbook, recordLives } from 'gravelbar';

const log = readLogbook('scenarios/own-columns/logbook.json');
log.tires.map(({ id, end }) => [id, end.kind]); // => [['7101', 'exact'], ['7102', 'right'], ['7103', 'right'], ['7115', 'right']]
const [main] = recordLives(log, { unit: 'flight hours' }).groups;
main?.ends; // => 1
main?.curve; // => null
main?.refused; // => '1 end: no curve and no law, only how long these tires have run'

// The shipped log has ends enough: curve, causes, laws, and the life left from 40 landings on are in the answer ...
const [soft] = recordLives(readLogbook('scenarios/logbook/logbook.json'), { at: [40] }).groups;
[soft!.refused, soft!.shares[0]!.use, soft!.laws!.map(({ law }) => law)]; // => [null, 40, ['weibull', 'lognormal']]
// ... and its lives can be asked for more.
const fit = fitLife(soft!.lives, { law: 'weibull' });
fittedRemainingLife(fit, 40, 0.5).estimate === soft!.laws![0]!.further[0]!.more.p50.estimate; // => true
probabilityPlot(soft!.lives, 'weibull').length > 5; // => true
\`\`\`

Lives of a log as JSON: \`gravelbar lives LOG --json\`; a life that had not ended has null as its upper end there.`;
