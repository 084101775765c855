// One measure of likeness serves unit names, keys and names of entries alike; it lives with the units, which come
// before this room.
export { nearestName } from '../units.js';
