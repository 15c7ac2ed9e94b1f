import { applicationMutants } from './application-mutants.ts';
import { allFall } from './falling.ts';

allFall('the application', applicationMutants, 19);
