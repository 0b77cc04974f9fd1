import Layer from 'ol/layer/Layer.js';
import type { FrameState } from 'ol/Map.js';
import Source from 'ol/source/Source.js';
import type { AirLattice } from '../../electron/service/contract.ts';
import { INK } from './theme.ts';

/** Moving air near the ground, drawn on a canvas of its own so that a thousand arrows cost no more than one tile. */

/** Least room between arrows on the screen, px. */
const ROOM = 36;
/** Speed at which an arrow is as long as it gets, m/s. */
const LONGEST = 6;

/** Half the length of an arrow, px: it grows with the root of the speed, so that faint drainage still shows. */
const halfLength = (speed: number): number => 5.5 + 9.5 * Math.min(1, Math.sqrt(speed / LONGEST));

/**
 * A feather: a pointed quill towards where air goes, with a notched tail. Filled where the cold layer keeps its own
 * flow, hollow where the wind blows.
 */
function feather(pen: CanvasRenderingContext2D, half: number): void {
  pen.beginPath();
  pen.moveTo(0, -half);
  pen.quadraticCurveTo(2.6, -half * 0.1, 3.6, half);
  pen.lineTo(0, half * 0.5);
  pen.lineTo(-3.6, half);
  pen.quadraticCurveTo(-2.6, -half * 0.1, 0, -half);
  pen.closePath();
}

/** Where the way is not known: a curl that leads nowhere. */
function curl(pen: CanvasRenderingContext2D): void {
  pen.beginPath();
  pen.arc(0, 0, 4.2, 0.5, 5.2);
  pen.arc(0.6, 0.4, 1.9, 5.2, 8.6);
}

/** One sign of the air at the pen's place, with a paper rim so that it reads on any ground. */
export function drawAir(
  pen: CanvasRenderingContext2D,
  speed: number,
  towards: number | null,
  held: number,
): void {
  pen.lineJoin = 'round';
  pen.lineCap = 'round';
  if (towards === null) {
    curl(pen);
    pen.lineWidth = 3.6;
    pen.strokeStyle = INK.paper;
    pen.stroke();
    pen.lineWidth = 1.5;
    pen.strokeStyle = INK.ink;
    pen.stroke();
    return;
  }
  pen.rotate((towards * Math.PI) / 180);
  feather(pen, halfLength(speed));
  pen.lineWidth = 4;
  pen.strokeStyle = INK.paper;
  pen.stroke();
  const own = held >= 0.5;
  pen.fillStyle = own ? '#0a3f66' : INK.paper;
  pen.fill();
  pen.lineWidth = 1.5;
  pen.strokeStyle = own ? '#0a3f66' : INK.ink;
  pen.stroke();
}

/** The layer, and the way to put another hour on it. */
export interface AirLayer {
  layer: Layer;
  show(lattice: AirLattice | null): void;
}

export function createAirLayer(): AirLayer {
  let lattice: AirLattice | null = null;
  const canvas = document.createElement('canvas');
  canvas.className = 'air-arrows';
  canvas.setAttribute('aria-hidden', 'true');
  Object.assign(canvas.style, { position: 'absolute', inset: '0', width: '100%', height: '100%' });
  canvas.style.pointerEvents = 'none';
  const source = new Source({});
  const layer = new Layer({
    source,
    render: (state: FrameState) => {
      paint(canvas, state, lattice);
      return canvas;
    },
  });
  // Over the painted ground, under lines and marks, whose names stay readable.
  layer.setZIndex(99);
  return {
    layer,
    show(next) {
      lattice = next;
      layer.setVisible(next !== null);
      layer.changed();
    },
  };
}

function paint(canvas: HTMLCanvasElement, state: FrameState, lattice: AirLattice | null): void {
  const { size, pixelRatio: ratio } = state;
  const [width = 0, height = 0] = size;
  canvas.width = Math.round(width * ratio);
  canvas.height = Math.round(height * ratio);
  const pen = canvas.getContext('2d')!;
  if (!lattice) return;
  const { center, resolution } = state.viewState;
  const { west, north, step, columns, rows } = lattice;
  const stride = Math.max(1, Math.ceil((ROOM * resolution) / step));
  const first = stride >> 1;
  for (let row = first; row < rows; row += stride)
    for (let column = first; column < columns; column += stride) {
      const x = width / 2 + (west + column * step - center[0]!) / resolution;
      const y = height / 2 - (north - row * step - center[1]!) / resolution;
      if (x < -20 || y < -20 || x > width + 20 || y > height + 20) continue;
      const k = row * columns + column;
      const speed = lattice.speed[k];
      if (speed === null || speed === undefined) continue;
      pen.setTransform(ratio, 0, 0, ratio, x * ratio, y * ratio);
      drawAir(pen, speed, lattice.towards[k]!, lattice.held[k]!);
    }
  // The layers over this one may draw on the same canvas.
  pen.resetTransform();
}

/** The place of the lattice nearest a point, within a step of it; null off the lattice or where there is no ground. */
export function airAt(
  lattice: AirLattice,
  [x, y]: readonly [number, number],
): { speed: number; towards: number | null; held: number } | null {
  const column = Math.round((x - lattice.west) / lattice.step);
  const row = Math.round((lattice.north - y) / lattice.step);
  if (column < 0 || row < 0 || column >= lattice.columns || row >= lattice.rows) return null;
  const k = row * lattice.columns + column;
  const speed = lattice.speed[k];
  return speed === null || speed === undefined
    ? null
    : { speed, towards: lattice.towards[k]!, held: lattice.held[k]! };
}
