import type { StageLimit } from '../directions/directions.ts';
import type { Rules } from '../directions/rules.ts';
import type { DirectionsId, PersonId, PlaceNumber, ServiceId } from '../ids.ts';
import type { Ms } from '../time.ts';
import type { Figures, PlaceKind, Role, WallSize } from './salon.ts';

/** What the owner sets up. Things made anew carry the command's id; naming an existing one changes it. */
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
  /** How long nobody kept watch, said by somebody who knows, after the time was lost (T3). */
  | { readonly type: 'ConfirmTime'; readonly awayMs: Ms };
