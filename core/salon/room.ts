/** What the room hears and sees of bells: clients sit there (W4). */
export interface Room {
  /** The wall says "chair six, rinse now" after a bell's burst: no level, no names. */
  readonly spoken: boolean;
  /** The wall names who goes, and whose head it is. */
  readonly names: boolean;
  /** Loudness of each level that sounds, from 0 to 1 of what the device can. */
  readonly volume: Readonly<Record<SoundedLevel, number>>;
}

export const soundedLevels = ['CAUTION', 'WARNING', 'DANGER'] as const;
export type SoundedLevel = (typeof soundedLevels)[number];

/** Common practice, no source. */
export const defaultRoom: Room = {
  spoken: false,
  names: true,
  volume: { CAUTION: 0.7, WARNING: 0.85, DANGER: 1 },
};

/** Least and most that a salon may choose: no level can be made silent. */
export const roomLimits = {
  CAUTION: [0.2, 1],
  WARNING: [0.3, 1],
  DANGER: [0.5, 1],
} as const satisfies Record<SoundedLevel, readonly [number, number]>;
