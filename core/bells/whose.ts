import type { Role } from '../salon/salon.ts';
import type { BellKind } from './bell.ts';

/** Whose deed a bell is: who it is for before it is carried further (R6). */
export interface Whose {
  readonly stylist: boolean;
  /** One free pair of hands besides. */
  readonly helper: boolean;
  readonly roles: readonly Role[];
  readonly everyone: boolean;
}

const stylist: Whose = { stylist: true, helper: false, roles: [], everyone: false };
const stylistAndHelper: Whose = { ...stylist, helper: true };
const managers: Whose = { stylist: false, helper: false, roles: ['manager', 'owner'], everyone: false };
const everyone: Whose = { stylist: true, helper: false, roles: [], everyone: true };

/** The table of bells, column "for" (R2). */
export const whose = {
  'begun?': stylist,
  pace: stylistAndHelper,
  soon: stylist,
  test: stylist,
  rinse: stylistAndHelper,
  over: stylistAndHelper,
  'water-on?': stylistAndHelper,
  water: stylist,
  dwell: stylist,
  'back-to-rinse': stylist,
  'long-stage': stylist,
  unattended: managers,
  tingles: stylist,
  help: { stylist: false, helper: false, roles: ['senior'], everyone: false },
  burns: everyone,
  abandoned: { ...managers, stylist: true },
  'nobody-reached': managers,
  'time-uncertain': everyone,
  'not-saved': everyone,
} as const satisfies Record<BellKind, Whose>;
