import type { Machine, PlacesKnown } from './form/proposals.ts';
import type { SetUpSoFar } from './form/resume.ts';
import type { FloorMirror } from '../state/floor-mirror.svelte.ts';
import type { EntityOf } from '../../../shared/wire.ts';

/** The salon's set-up as this page lists it: what is in use by its order, and what is retired. */
export interface SetUp {
  readonly chairs: readonly EntityOf<'place'>[];
  readonly basins: readonly EntityOf<'place'>[];
  readonly people: readonly EntityOf<'person'>[];
  readonly directions: readonly EntityOf<'directions'>[];
  readonly services: readonly EntityOf<'service'>[];
  readonly places: PlacesKnown;
  readonly soFar: SetUpSoFar;
}

export function setUpOf(mirror: FloorMirror): SetUp {
  const places = mirror.all('place');
  const ofKind = (kind: 'chair' | 'basin') =>
    places.filter(({ facts }) => facts.kind === kind && !facts.retired).sort((a, b) => a.facts.number - b.facts.number);
  const chairs = ofKind('chair');
  const basins = ofKind('basin');
  const people = mirror.all('person').filter(({ facts }) => !facts.retired);
  const directions = mirror.all('directions').filter(({ facts }) => !facts.retired);
  const services = mirror.all('service').filter(({ facts }) => !facts.retired);
  return {
    chairs,
    basins,
    people,
    directions,
    services,
    places: {
      numbers: new Set(places.map(({ facts }) => facts.number)),
      labels: new Set(places.filter(({ facts }) => !facts.retired).map(({ label }) => label.toLowerCase())),
    },
    soFar: {
      setUp: mirror.salon.setUpAt !== null,
      chairs: chairs.length,
      basins: basins.length,
      people: people.length,
      directions: directions.length,
      services: services.length,
    },
  };
}

/** What this machine says of zone, languages and hours. */
export function thisMachine(): Machine {
  const { hourCycle } = new Intl.DateTimeFormat(undefined, { hour: 'numeric' }).resolvedOptions();
  return {
    zone: Intl.DateTimeFormat().resolvedOptions().timeZone,
    languages: navigator.languages,
    hourCycle,
  };
}

/** Zones that this machine lists; none where it cannot list them. */
export function knownZones(): readonly string[] {
  return typeof Intl.supportedValuesOf === 'function' ? Intl.supportedValuesOf('timeZone') : [];
}

export function isZone(name: string): boolean {
  try {
    return name !== '' && new Intl.DateTimeFormat('en', { timeZone: name }).resolvedOptions().timeZone !== '';
  } catch {
    return false;
  }
}
