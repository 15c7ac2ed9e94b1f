import type { EpochMs } from '../time.ts';
import type { Bell } from './bell.ts';
import { audienceOf, type People } from './circles.ts';
import { soundingOf, type Ear, type Sounding } from './sounding.ts';
import type { Rung } from './subject.ts';

/** Whether a bell asks whoever listens: a wall is asked by all, a person by those of their circles (R6). */
export function asks(bell: Bell, { owner }: Rung, ear: Ear, people: People, now: EpochMs): boolean {
  return ear === 'room' || audienceOf(bell, owner, people, now).includes(ear);
}

/** How a bell sounds for whoever listens; null when it does not, asks others, or its deed is being done (R3). */
export function heardAs(bell: Bell, rung: Rung, ear: Ear, people: People, now: EpochMs): Sounding | null {
  if (rung.underWay.includes(bell.cause) || !asks(bell, rung, ear, people, now)) return null;
  return soundingOf(bell, ear, rung.acts, now);
}
