import { decode, encode } from 'fast-png';

/** A picture of the window, small: eight bits of red, green and blue a cell. */
export interface Look {
  width: number;
  height: number;
  cells: Uint8Array;
}

/** How many pixels of the window a side make one of the look: letters become grey, what stands where remains. */
const PART = 4;
/** A cell that differs by more in any colour looks different. */
const PLAIN = 24;

/** @param png a screenshot */
export function lookOf(png: Uint8Array): Look {
  const { width, height, channels, data } = decode(png);
  const look = { width: Math.floor(width / PART), height: Math.floor(height / PART) };
  const cells = new Uint8Array(look.width * look.height * 3);
  for (let y = 0, to = 0; y < look.height; y++)
    for (let x = 0; x < look.width; x++)
      for (let colour = 0; colour < 3; colour++, to++) {
        let sum = 0;
        for (let dy = 0; dy < PART; dy++)
          for (let dx = 0; dx < PART; dx++)
            sum += data[((y * PART + dy) * width + x * PART + dx) * channels + colour]!;
        cells[to] = Math.round(sum / PART ** 2);
      }
  return { ...look, cells };
}

/** Share of cells that look different; 1 where the sizes differ. */
export function difference(a: Look, b: Look): number {
  if (a.width !== b.width || a.height !== b.height) return 1;
  let different = 0;
  for (let i = 0; i < a.cells.length; i += 3)
    if ([0, 1, 2].some((colour) => Math.abs(a.cells[i + colour]! - b.cells[i + colour]!) > PLAIN))
      different++;
  return different / (a.width * a.height);
}

export const packed = ({ width, height, cells }: Look): Uint8Array =>
  encode({ width, height, channels: 3, depth: 8, data: cells });

export function unpacked(png: Uint8Array): Look {
  const { width, height, data } = decode(png);
  return { width, height, cells: Uint8Array.from(data) };
}
