/** One request of the public API; the body is what JSON says. */
export type Ask = (method: 'GET' | 'POST', path: string, body: unknown) => Promise<Answer>;

export interface Answer {
  readonly status: number;
  readonly body: unknown;
}

/** Over the network, as any screen does; the connection is kept. */
export function askAt(address: string): Ask {
  return async (method, path, body) => {
    const headers = body === null ? {} : { 'content-type': 'application/json' };
    const init = body === null ? { method, headers } : { method, headers, body: JSON.stringify(body) };
    const response = await fetch(new URL(path, address), { ...init, signal: AbortSignal.timeout(10_000) });
    const text = await response.text();
    return { status: response.status, body: text === '' ? null : JSON.parse(text) };
  };
}
