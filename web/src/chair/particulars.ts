import type { PersonId, ServiceId, VisitId } from '../../../core/ids.ts';
import type { VisitCommand } from '../../../core/visit/commands/command.ts';

export interface Particulars {
  /** Empty: none. */
  readonly label: string;
  readonly service: ServiceId | null;
  readonly stylist: PersonId | null;
}

/** What has to be said to come from one set of particulars to another: only what changed. */
export function particularsChanged(visit: VisitId, had: Particulars, now: Particulars): readonly VisitCommand[] {
  const commands: VisitCommand[] = [];
  if (now.service !== null && now.service !== had.service) {
    commands.push({ type: 'ChooseService', visit, service: now.service });
  }
  if (now.stylist !== had.stylist) commands.push({ type: 'NameStylist', visit, stylist: now.stylist });
  if (now.label !== had.label) commands.push({ type: 'WriteLabel', visit, label: now.label === '' ? null : now.label });
  return commands;
}
