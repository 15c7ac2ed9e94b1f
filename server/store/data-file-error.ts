/** Why a data folder cannot be used; the message is a sentence for whoever started the server. */
export type DataFileFault = 'folder' | 'in-use' | 'not-ours' | 'newer' | 'damaged' | 'library';

/** Thrown before anything was written: the file is left as it was found. */
export class DataFileError extends Error {
  readonly fault: DataFileFault;
  constructor(fault: DataFileFault, sentence: string, cause?: unknown) {
    super(sentence, { cause });
    this.fault = fault;
  }
}
