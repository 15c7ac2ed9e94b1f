import { besideMutants } from './beside-mutants.ts';
import { allFall } from './falling.ts';

allFall('tingles, hand over and "I can’t"', besideMutants, 8);
