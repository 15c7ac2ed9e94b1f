import { readFileSync } from 'node:fs';

/** Layout and checksum of the write-ahead log: sqlite.org/fileformat2.html §4. Lengths in bytes. */
const HEADER = 32;
const FRAME_HEADER = 24;
/** In the last bit: whether checksums are counted over big-endian words. */
const MAGIC = 0x377f0682;

interface Frame {
  /** Written since the log was last begun anew; older frames may lie behind it. */
  readonly ours: boolean;
  readonly commits: boolean;
  readonly sound: boolean;
}

type Sum = readonly [number, number];

function sumOf(data: Buffer, from: number, to: number, [first, second]: Sum, bigEndian: boolean): Sum {
  let [a, b] = [first, second];
  for (let at = from; at < to; at += 8) {
    const x = bigEndian ? data.readUInt32BE(at) : data.readUInt32LE(at);
    const y = bigEndian ? data.readUInt32BE(at + 4) : data.readUInt32LE(at + 4);
    a = (a + x + b) >>> 0;
    b = (b + y + a) >>> 0;
  }
  return [a, b];
}

function* framesOf(log: Buffer): Generator<Frame> {
  const bigEndian = (log.readUInt32BE(0) & 1) === 1;
  const pageSize = log.readUInt32BE(8);
  if (pageSize < 512 || pageSize > 65_536) return;
  let sum = sumOf(log, 0, 24, [0, 0], bigEndian);
  let sound = sum[0] === log.readUInt32BE(24) && sum[1] === log.readUInt32BE(28);
  for (let at = HEADER; at + FRAME_HEADER + pageSize <= log.length; at += FRAME_HEADER + pageSize) {
    const ours = log.compare(log, 16, 24, at + 8, at + 16) === 0;
    const afterHead = sumOf(log, at, at + 8, sum, bigEndian);
    sum = sumOf(log, at + FRAME_HEADER, at + FRAME_HEADER + pageSize, afterHead, bigEndian);
    sound &&= ours && sum[0] === log.readUInt32BE(at + 16) && sum[1] === log.readUInt32BE(at + 20);
    yield { ours, commits: log.readUInt32BE(at + 4) !== 0, sound };
  }
}

/**
 * Whether turns that were acknowledged lie in a write-ahead log behind something unreadable. SQLite stops reading at the
 * first bad frame without a word, as it must after a power cut. Only the last transaction can be torn by one, for each is
 * synced before the next begins: whatever follows a commit behind the break was lost in another way.
 */
export function losesTurns(file: string): boolean {
  const log = readFileSync(file);
  if (log.length <= HEADER || (log.readUInt32BE(0) & ~1) >>> 0 !== MAGIC) return false;
  let committedBehind = false;
  for (const { ours, commits, sound } of framesOf(log)) {
    if (sound) continue;
    if (!ours) return false;
    if (committedBehind) return true;
    committedBehind = commits;
  }
  return false;
}
