/** What the engine has to say of its own faults; never words of clients. */
export interface EngineLog {
  error(details: Readonly<Record<string, unknown>>, message: string): void;
  warn(details: Readonly<Record<string, unknown>>, message: string): void;
  info(details: Readonly<Record<string, unknown>>, message: string): void;
}
