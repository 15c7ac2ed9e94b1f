let context: CanvasRenderingContext2D | null = null;

/** Width of a text in the product's typeface, px. */
export function measureText(text: string, typePx: number, weight: number): number {
  context ??= document.createElement('canvas').getContext('2d');
  if (context === null) return text.length * typePx * 0.62;
  context.font = `${weight} ${typePx}px 'Public Sans', system-ui, sans-serif`;
  // Digits are painted tabular, the canvas measures them as they fall: "1" is narrower there.
  return context.measureText(text.replace(/\d/g, '0')).width;
}
