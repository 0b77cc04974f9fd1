import { INK } from './theme.ts';

/** Hatches that tell areas apart without colour. A canvas pattern is made once a kind. */
export type Hatch = 'rising' | 'falling' | 'cross' | 'dots' | 'level';

const made = new Map<string, CanvasPattern | string>();

export function hatch(kind: Hatch, colour: string): CanvasPattern | string {
  const key = `${kind} ${colour}`;
  const before = made.get(key);
  if (before) return before;
  const size = 10;
  const canvas = document.createElement('canvas');
  canvas.width = canvas.height = size;
  const pen = canvas.getContext('2d')!;
  pen.fillStyle = `${colour}1f`;
  pen.fillRect(0, 0, size, size);
  pen.strokeStyle = pen.fillStyle = colour;
  pen.lineWidth = 1.2;
  pen.beginPath();
  const line = (x1: number, y1: number, x2: number, y2: number) => {
    pen.moveTo(x1, y1);
    pen.lineTo(x2, y2);
  };
  if (kind === 'rising' || kind === 'cross') for (const o of [-size, 0, size]) line(o, size, o + size, 0);
  if (kind === 'falling' || kind === 'cross') for (const o of [-size, 0, size]) line(o, 0, o + size, size);
  if (kind === 'level') line(0, size / 2, size, size / 2);
  pen.stroke();
  if (kind === 'dots') {
    pen.beginPath();
    pen.arc(size / 2, size / 2, 1.3, 0, 7);
    pen.fill();
  }
  const pattern = pen.createPattern(canvas, 'repeat') ?? INK.stone;
  made.set(key, pattern);
  return pattern;
}
