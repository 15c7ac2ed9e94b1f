import type { EntityKind, EntityOf, FloorEntity, Push, Snapshot } from '../../../shared/wire.ts';
import type { Bell } from '../../../core/bells/bell.ts';
import type { PersonId, PlaceNumber, ServiceId, VisitId } from '../../../core/ids.ts';
import { emptySalon } from '../../../core/salon/salon.ts';
import type { Salon } from '../../../core/salon/salon.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import { withBellsDue } from '../../../core/bells/alone.ts';
import type { People } from '../../../core/bells/circles.ts';
import { nobodys } from '../../../core/bells/circles.ts';
import { rungAtChair, rungAtVisit, type Rung } from '../../../core/bells/subject.ts';
import type { EpochMs } from '../../../core/time.ts';
import type { ahead, Ahead, Entities, OwnTouch } from './ahead.ts';

const NONE: ReadonlySet<VisitId> = new Set();

/** One workplace with whoever is there. `visit` also holds one who left with product on, until that is settled. */
export interface ChairOnFloor {
  readonly number: PlaceNumber;
  readonly label: string;
  readonly visit: VisitFacts | null;
  readonly client: string | null;
}

export interface BasinOnFloor {
  readonly number: PlaceNumber;
  readonly label: string;
  /** Heads whose water runs here. */
  readonly heads: readonly VisitFacts[];
}

/** A standing bell with its subject: a visit, a chair (help), or with both null the floor. */
export interface StandingBell {
  readonly bell: Bell;
  readonly visit: VisitFacts | null;
  /** Where it is; null for the floor's. */
  readonly chair: PlaceNumber | null;
  readonly rung: Rung;
}

/** What the server has told this screen. Entities are replaced whole and never changed in place. */
export class FloorMirror {
  /** As the server told it. */
  heard = $state.raw<Entities>({});
  /** Touches of this device whose effect is shown before the server has settled them. */
  touches = $state.raw<readonly OwnTouch[]>([]);
  /** The second for which bells are reckoned here, because the server is not heard (R10); null while it is. */
  aloneAt = $state<EpochMs | null>(null);
  revision = $state(-1);
  run = $state<string | null>(null);
  /** How touches are shown ahead; null on a screen that nobody touches. */
  foresee: typeof ahead | null = null;
  readonly #shown: Ahead = $derived.by(() => this.#show());

  readonly salon: Salon = $derived.by(() => {
    const entity = this.entities['salon'];
    return entity?.kind === 'salon' ? entity.facts : emptySalon;
  });
  readonly visits: readonly EntityOf<'visit'>[] = $derived(this.all('visit'));
  readonly chairs: readonly ChairOnFloor[] = $derived.by(() => this.#chairs());
  readonly basins: readonly BasinOnFloor[] = $derived.by(() => this.#basins());
  readonly people: readonly EntityOf<'person'>[] = $derived(this.all('person').filter(({ facts }) => !facts.retired));
  readonly services: readonly EntityOf<'service'>[] = $derived(
    this.all('service').filter(({ facts }) => !facts.retired),
  );
  readonly bells: readonly StandingBell[] = $derived.by(() => this.#bells());
  /** Everybody by id, as core asks for them. */
  readonly staff: People = $derived(peopleOf(this.entities));

  /** As this screen shows it: what was told, its own touches, and bells that fell due unheard. */
  get entities(): Entities {
    return this.#shown.entities;
  }

  /** Heads that stand here as this device has them, not as the server said. */
  get unsettled(): ReadonlySet<VisitId> {
    return this.#shown.unsettled;
  }

  /** What the server last told of a visit: the version that this screen has seen (S7). */
  heardVersion(id: VisitId): number | null {
    const entity = this.heard[`visit/${id}`];
    return entity?.kind === 'visit' ? entity.facts.version : null;
  }

  /**
   * A snapshot is taken as it is, whatever was held before; one of the same run that is older than what was told since is
   * passed over.
   */
  take(snapshot: Snapshot): void {
    if (snapshot.run === this.run && snapshot.revision < this.revision) return;
    this.heard = snapshot.entities;
    this.revision = snapshot.revision;
    this.run = snapshot.run;
  }

  /** What this device heard last, before this page was opened: whatever the server says takes its place. */
  takeKept(snapshot: Snapshot): void {
    this.heard = snapshot.entities;
    this.revision = snapshot.revision;
    this.run = null;
  }

  /** False when something was missed: then only a snapshot helps. What is known already is passed over. */
  apply(push: Push): boolean {
    if (push.revision <= this.revision) return true;
    if (push.previous !== this.revision) return false;
    const next: Record<string, FloorEntity> = { ...this.heard };
    for (const [key, entity] of Object.entries(push.entities)) {
      if (entity === null) delete next[key];
      else next[key] = entity;
    }
    this.heard = next;
    this.revision = push.revision;
    return true;
  }

  all<K extends EntityKind>(kind: K): readonly EntityOf<K>[] {
    return Object.values(this.entities).filter((entity): entity is EntityOf<K> => entity.kind === kind);
  }

  labelOf(place: PlaceNumber): string {
    const entity = this.entities[`place/${place}`];
    return entity?.kind === 'place' ? entity.label : String(place);
  }

  nameOf(person: PersonId | null): string | null {
    const entity = person === null ? undefined : this.entities[`person/${person}`];
    return entity?.kind === 'person' ? entity.name : null;
  }

  serviceName(service: ServiceId | null): string | null {
    const entity = service === null ? undefined : this.entities[`service/${service}`];
    return entity?.kind === 'service' ? entity.name : null;
  }

  visitOf(id: VisitId): EntityOf<'visit'> | null {
    const entity = this.entities[`visit/${id}`];
    return entity?.kind === 'visit' ? entity : null;
  }

  #show(): Ahead {
    const { heard, touches, aloneAt } = this;
    const own =
      this.foresee === null || touches.length === 0
        ? { entities: heard, unsettled: NONE }
        : this.foresee(heard, touches, aloneAt ?? touches[touches.length - 1]?.touchedAt ?? 0);
    return aloneAt === null ? own : { ...own, entities: withOwnBells(own.entities, aloneAt) };
  }

  #places(kind: 'chair' | 'basin'): readonly EntityOf<'place'>[] {
    return this.all('place')
      .filter(({ facts }) => facts.kind === kind && !facts.retired)
      .sort((a, b) => a.facts.number - b.facts.number);
  }

  #chairs(): readonly ChairOnFloor[] {
    return this.#places('chair').map(({ facts: { number }, label }) => {
      const here = this.visits.filter(({ facts }) => facts.chair === number);
      const entity =
        here.find(({ facts }) => facts.stage !== 'finished') ??
        here.find(({ facts }) => facts.end === 'abandoned-with-product' && facts.settled === null);
      return { number, label, visit: entity?.facts ?? null, client: entity?.label ?? null };
    });
  }

  #basins(): readonly BasinOnFloor[] {
    return this.#places('basin').map(({ facts: { number }, label }) => {
      const heads = this.visits.map(({ facts }) => facts).filter((visit) => basinOf(visit) === number);
      return { number, label, heads };
    });
  }

  #bells(): readonly StandingBell[] {
    const ofVisits = this.visits.flatMap(({ facts }) => {
      const rung = rungAtVisit(facts);
      return facts.bells.map((bell) => ({ bell, visit: facts, chair: facts.chair, rung }));
    });
    const ofChairs = this.all('place').flatMap(({ facts }) => {
      const rung = rungAtChair(facts);
      return facts.bells.map((bell) => ({ bell, visit: null, chair: facts.number, rung }));
    });
    const floor = this.entities['floor-bells'];
    if (floor?.kind !== 'floor-bells') return [...ofVisits, ...ofChairs];
    const rung: Rung = { ringing: floor.facts, owner: nobodys, acts: [], underWay: [] };
    const ofFloor = floor.facts.bells.map((bell) => ({ bell, visit: null, chair: null, rung }));
    return [...ofVisits, ...ofChairs, ...ofFloor];
  }
}

function peopleOf(entities: Entities): People {
  const people = Object.values(entities).flatMap((entity) => (entity.kind === 'person' ? [entity.facts] : []));
  return Object.fromEntries(people.map((facts) => [facts.id, facts]));
}

/** Every head with the bells that fall due by themselves (R10); what does not change is the very same. */
function withOwnBells(entities: Entities, now: EpochMs): Entities {
  const salon = entities['salon'];
  if (salon?.kind !== 'salon') return entities;
  const people = peopleOf(entities);
  const next: Record<string, FloorEntity> = { ...entities };
  for (const [key, entity] of Object.entries(entities)) {
    if (entity.kind !== 'visit') continue;
    const facts = withBellsDue(entity.facts, salon.facts.figures, now, people);
    if (facts !== entity.facts) next[key] = { ...entity, facts };
  }
  return next;
}

/** The basin a head is at while its water or what is washed out there goes on; null elsewhere. */
export function basinOf(visit: VisitFacts): PlaceNumber | null {
  const pass = visit.passes[visit.pass];
  if (pass === undefined) return null;
  if (visit.stage === 'rinse') return pass.water?.basin ?? null;
  if (visit.stage === 'neutralize') return pass.neutralizerWater?.basin ?? pass.water?.basin ?? null;
  if (visit.stage === 'condition') return pass.neutralizerWater?.basin ?? pass.water?.basin ?? null;
  return null;
}
