/** The forms a language may need; `other` is always there (Unicode CLDR plural categories). */
export type Forms = { readonly other: string } & Readonly<Partial<Record<Intl.LDMLPluralRule, string>>>;

export interface Plurals {
  one(n: number, forms: Forms): string;
}

const rules = new Map<string, Intl.PluralRules>();

/** Picks the form of a count. The rules object is costly to make, so one is kept per language. */
export function plurals(locale: string): Plurals {
  return {
    one(n, forms) {
      let rule = rules.get(locale);
      if (!rule) rules.set(locale, (rule = new Intl.PluralRules(locale)));
      return forms[rule.select(n)] ?? forms.other;
    },
  };
}
