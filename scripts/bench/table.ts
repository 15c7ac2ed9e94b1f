/** One line of the table: what was measured, against what, and how the two compare. */
export interface Line {
  readonly what: string;
  readonly measured: string;
  readonly against: string;
  readonly ratio: string;
  readonly goal: string;
}

const columns = ['what', 'measured', 'against', 'ratio', 'goal'] as const satisfies readonly (keyof Line)[];

/** Prints the lines under their headings, each column as wide as its widest entry. */
export function printTable(lines: readonly Line[]): void {
  const heading = Object.fromEntries(columns.map((column) => [column, column])) as unknown as Line;
  const rows = [heading, ...lines];
  const widths = columns.map((column) => Math.max(...rows.map((row) => row[column].length)));
  for (const row of rows) {
    const text = columns.map((column, i) => row[column].padEnd(widths[i] ?? 0)).join('  ');
    process.stdout.write(`${text.trimEnd()}\n`);
  }
}
