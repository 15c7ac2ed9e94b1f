/** What a trial says while it runs, and what it holds to be true at its end. */
export interface Told {
  /** A line of figures: what was tried, what was seen. */
  say(line: string): void;
  /** A claim of the project's, and what was found; a trial stands only if all of its claims do. */
  claim(sentence: string, holds: boolean, found?: string): void;
}

export interface TrialContext extends Told {
  /** The form that fits beside the other checks of a machine that is waited for. */
  readonly short: boolean;
  /** Where servers of this run are started from; see `built.ts`. */
  readonly built: Built;
}

/** The server and its variants for trials, each as one file that starts in half a second. */
export interface Built {
  readonly server: string;
  readonly dying: string;
  /** Its file can be made narrow while it runs. */
  readonly narrow: string;
  /** A process full of screens. */
  readonly screens: string;
}

export interface Trial {
  readonly name: string;
  /** `long`: not run by the short form. */
  readonly form: 'both' | 'long';
  readonly run: (told: TrialContext) => Promise<void>;
}

export interface Outcome {
  readonly name: string;
  readonly claims: number;
  readonly broken: readonly string[];
}

/** Runs one trial to its end; whatever it throws is a broken claim. */
export async function tried(
  trial: Trial,
  run: { readonly short: boolean; readonly built: Built },
  print: (line: string) => void,
): Promise<Outcome> {
  const broken: string[] = [];
  let claims = 0;
  const told: TrialContext = {
    ...run,
    say: (line) => print(`    ${line}`),
    claim: (sentence, holds, found = '') => {
      claims += 1;
      const text = found === '' ? sentence : `${sentence}: ${found}`;
      if (!holds) broken.push(text);
      print(`  ${holds ? '✓' : '✗'} ${text}`);
    },
  };
  try {
    await trial.run(told);
  } catch (error) {
    broken.push(String(error));
    print(`  ✗ it did not get to its end: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`);
  }
  // A trial that claims nothing proves nothing.
  if (claims === 0 && broken.length === 0) broken.push('nothing was claimed');
  return { name: trial.name, claims, broken };
}
