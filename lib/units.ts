// Door of the units room: quantities with units at the edge, SI numbers inside.
export { expectedPhrase, unitNames, type Dimension } from './units/dimensions.js';
export { formatQuantity, suggestUnit } from './units/format.js';
export { nearestName } from './units/nearest.js';
export { parseQuantity, type ParsedQuantity } from './units/parse.js';
export { MAX_QUANTITY_LENGTH, quantityPattern, splitQuantity } from './units/pattern.js';
