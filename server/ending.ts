import { HandClockRefused } from './clock/hand-clock-allowed.ts';
import { ConfigRefused } from './config.ts';
import { DataFileError } from './store/data-file-error.ts';

/** How a start that cannot be ends; scripts tell them apart by their code. */
export const exitCodes = { failed: 1, config: 2, portTaken: 3, folder: 4, file: 5 } as const;

export interface Ending {
  readonly code: number;
  /** One sentence for whoever started the server; null for a fault of ours, which is told with its trace. */
  readonly sentence: string | null;
}

export function endingFor(error: unknown, port: number): Ending {
  if (error instanceof ConfigRefused || error instanceof HandClockRefused) {
    return { code: exitCodes.config, sentence: error.message };
  }
  if (error instanceof DataFileError) {
    const folder = error.fault === 'folder' || error.fault === 'in-use';
    return { code: folder ? exitCodes.folder : exitCodes.file, sentence: error.message };
  }
  const code = error instanceof Error && 'code' in error ? error.code : null;
  if (code === 'EADDRINUSE') {
    const sentence = `Port ${port} is taken by another program. Stop it, or name another port: npm start -- --port 4681`;
    return { code: exitCodes.portTaken, sentence };
  }
  if (code === 'EACCES') {
    return {
      code: exitCodes.portTaken,
      sentence: `This user may not listen on port ${port}. Name one above 1023: npm start -- --port 4680`,
    };
  }
  return { code: exitCodes.failed, sentence: null };
}
