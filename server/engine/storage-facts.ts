import type { EpochMs } from '../../core/time.ts';
import type { BackupTrouble, StorageFacts, StorageTrouble } from '../../shared/wire.ts';
import type { Damage } from '../store/damage.ts';

/** How it stands with the backups, as told by who makes them. */
export interface BackupState {
  /** Wall clock of the newest one that passed its check. */
  readonly madeAt: EpochMs | null;
  readonly trouble: BackupTrouble | null;
}

export const noBackups: BackupState = { madeAt: null, trouble: 'none-yet' };

/** Findings and backups carry the wall's time; screens show the timescale's plus the civil offset (T2). */
export function storageFacts(
  trouble: StorageTrouble | null,
  damage: Damage | null,
  backups: BackupState,
  civilOffsetMs: number,
): StorageFacts {
  const onTimescale = (wall: EpochMs): EpochMs => Math.max(0, Math.round(wall - civilOffsetMs));
  return {
    trouble: damage === null ? trouble : 'corrupt',
    damageFoundAt: damage === null ? null : onTimescale(damage.foundAt),
    backupAt: backups.madeAt === null ? null : onTimescale(backups.madeAt),
    backupTrouble: backups.trouble,
  };
}
