import { allFall } from './falling.ts';
import { mutants } from './mutants.ts';

allFall('moves and bells', mutants, 25);
