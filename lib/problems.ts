// Door of the problems room: every error the library throws on purpose, and the wording they share.
export {
  CancelledError,
  listProblems,
  NonFiniteError,
  ScenarioError,
  UsageError,
  type NonFinitePlace,
  type Problem,
} from './problems/errors.js';
export { properShare, wholeNumber } from './problems/checks.js';
export { pathText, plainText, valueText } from './problems/text.js';
