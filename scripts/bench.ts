import { derivation } from './bench/derivation.ts';
import { history } from './bench/history.ts';
import { ringing } from './bench/ringing.ts';
import { printTable } from './bench/table.ts';

/*
 * Measures what the project promises to be quick at, against something plain that does the same work, side by side in one
 * run. Nothing is asserted: a machine under load says so by its ratios.
 */
printTable([...derivation(), ...(await ringing()), ...(await history())]);
