import type { EpochMs } from '../../core/time.ts';
import type { CommandRequest, ServerTime } from '../../shared/wire.ts';

/** A sender gives a request up after so long and sends it again with its time, ms. */
const GIVEN_UP_AFTER_MS = 5_000;

/**
 * A request that a dead network held back, and brings long after its sender has given it up, happened when it was touched and not
 * when it arrives (X3). Its sender says when that was, on which timescale, beside the body: the touch itself leaves its time open.
 */
export function withItsTime(request: CommandRequest, header: unknown, { timescale, now }: ServerTime): CommandRequest {
  if (request.happenedAt !== null || typeof header !== 'string') return request;
  const [at = '', of = ''] = header.split(' ');
  const touchedAt: EpochMs = Number(at);
  const late = /^\d{1,15}$/.test(at) && of === timescale && now - touchedAt > GIVEN_UP_AFTER_MS;
  return late ? { ...request, happenedAt: touchedAt } : request;
}
