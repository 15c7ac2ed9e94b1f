/** One step forward of the file's shape; run in a transaction of its own, never back. */
export interface Migration {
  /** The file's `user_version` after it; they count from 1 without a hole. */
  readonly version: number;
  readonly sql: string;
  /** Whether projections have another shape or meaning now and are to be rebuilt from the log. */
  readonly rebuilds: boolean;
}
