/** What a trial of the box found. */
export interface Found {
  readonly ok: boolean;
  readonly lines: string[];
}
