/** Dark modules of a QR code as one SVG path, a run of neighbours at a time; one unit per module. */
export function qrPath(modules: readonly (readonly boolean[])[]): string {
  let path = '';
  modules.forEach((row, y) => {
    for (let x = 0; x < row.length; x += 1) {
      if (!row[x]) continue;
      const from = x;
      while (row[x + 1]) x += 1;
      path += `M${from} ${y}h${x - from + 1}v1h-${x - from + 1}z`;
    }
  });
  return path;
}
