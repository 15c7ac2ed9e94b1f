import type { StageLimit } from '../directions/directions.ts';
import type { Rules } from '../directions/rules.ts';
import type { DirectionsId, PersonId, PlaceNumber, ServiceId } from '../ids.ts';
import type { Ms } from '../time.ts';
import type { Room } from './room.ts';
import type { Figures, PlaceKind, Role, WallSize } from './salon.ts';

/** Somebody is here, or help is not wanted any more. */
export const helpEnds = ['here', 'no-longer'] as const;
export type HelpEnd = (typeof helpEnds)[number];

/** What the owner sets up, and what people say of themselves. Things made anew carry the command's id; naming an existing one changes it. */
export type SalonCommand =
  | {
      readonly type: 'SetUpSalon';
      readonly name: string;
      readonly zone: string;
      readonly language: string;
      readonly hourCycle: 'h12' | 'h23';
      readonly demonstration: boolean;
    }
  | { readonly type: 'AddPlace'; readonly kind: PlaceKind; readonly number: PlaceNumber; readonly label: string }
  | { readonly type: 'RelabelPlace'; readonly number: PlaceNumber; readonly label: string }
  | { readonly type: 'RetirePlace'; readonly number: PlaceNumber }
  | { readonly type: 'AddPerson'; readonly name: string; readonly roles: readonly Role[] }
  | { readonly type: 'ChangePerson'; readonly person: PersonId; readonly name: string; readonly roles: readonly Role[] }
  | { readonly type: 'RetirePerson'; readonly person: PersonId }
  /** `directions` null writes new ones; else a new version, for visits that begin later. */
  | {
      readonly type: 'WriteDirections';
      readonly directions: DirectionsId | null;
      readonly name: string;
      readonly source: string;
      readonly rules: Rules;
    }
  | { readonly type: 'RetireDirections'; readonly directions: DirectionsId }
  | {
      readonly type: 'WriteService';
      readonly service: ServiceId | null;
      readonly name: string;
      readonly passes: readonly DirectionsId[];
      readonly limits: readonly StageLimit[];
    }
  | { readonly type: 'RetireService'; readonly service: ServiceId }
  | { readonly type: 'ChooseUsualService'; readonly service: ServiceId }
  | { readonly type: 'SetFigures'; readonly figures: Figures }
  | { readonly type: 'SetWall'; readonly wall: WallSize }
  | { readonly type: 'SetRoom'; readonly room: Room }
  /** `contact`: a `mailto:` or `https:` address at which push services reach whoever runs this (RFC 8292). */
  | { readonly type: 'SetPush'; readonly on: boolean; readonly contact: string }
  | { readonly type: 'BeginShift'; readonly person: PersonId }
  | { readonly type: 'EndShift'; readonly person: PersonId }
  /** Away for so long; `cover` is rung instead. */
  | { readonly type: 'GoAway'; readonly person: PersonId; readonly forMs: Ms; readonly cover: PersonId | null }
  | { readonly type: 'ComeBack'; readonly person: PersonId }
  /** "Help here": a second opinion is wanted at a chair. */
  | { readonly type: 'AskHelp'; readonly chair: PlaceNumber }
  | { readonly type: 'EndHelp'; readonly chair: PlaceNumber; readonly how: HelpEnd }
  /** How long nobody kept watch, said by somebody who knows, after the time was lost (T3). */
  | { readonly type: 'ConfirmTime'; readonly awayMs: Ms };
