import { browserKeep } from './keep.ts';
import type { Keep } from './keep.ts';

export const themeChoices = ['auto', 'light', 'dark'] as const;
export type ThemeChoice = (typeof themeChoices)[number];

function isChoice(value: string | null): value is ThemeChoice {
  return themeChoices.some((one) => one === value);
}

/** Light or dark, as the device says unless somebody chose. */
export class Theme {
  #choice = $state<ThemeChoice>('auto');
  #root: HTMLElement | null = null;
  readonly #keep: Keep;

  constructor(keep: Keep) {
    this.#keep = keep;
    const kept = keep.read('theme');
    if (isChoice(kept)) this.#choice = kept;
  }

  get choice(): ThemeChoice {
    return this.#choice;
  }

  choose(choice: ThemeChoice): void {
    this.#choice = choice;
    this.#keep.write('theme', choice === 'auto' ? null : choice);
    this.#paint();
  }

  /** The stylesheet reads `data-theme` on the root element; without it the device's wish counts. */
  follow(root: HTMLElement): void {
    this.#root = root;
    this.#paint();
  }

  #paint(): void {
    if (!this.#root) return;
    if (this.#choice === 'auto') delete this.#root.dataset['theme'];
    else this.#root.dataset['theme'] = this.#choice;
  }
}

export const theme = new Theme(browserKeep());
