/** The moment at which a server of `dying-server.ts` is killed, in the first write from the `write`th on that comes to it. */
export type Death = { readonly plant?: 'answers-before-storing' } & (
  | { readonly point: 'never' }
  | { readonly point: 'before-store'; readonly write: number }
  /** Before the `statement`th statement of the transaction. */
  | { readonly point: 'in-transaction'; readonly write: number; readonly statement: number }
  /** So many µs after COMMIT began, by another thread. */
  | { readonly point: 'in-commit'; readonly write: number; readonly afterUs: number }
  /** Once the store has returned: no answer has left. */
  | { readonly point: 'after-commit'; readonly write: number }
);

/**
 * How far the process had come: (i)dle, in a (w)rite before its commit, in its (c)ommit, (a)fter it with the answers of that turn
 * still there.
 */
export type Whereabouts = 'i' | 'w' | 'c' | 'a';
