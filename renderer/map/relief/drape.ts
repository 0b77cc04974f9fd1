import type { FeatureCollection } from 'geojson';
import type { FeatureLike } from 'ol/Feature.js';
import GeoJSON from 'ol/format/GeoJSON.js';
import type Geometry from 'ol/geom/Geometry.js';
import { toContext } from 'ol/render.js';
import type { FrameSummary } from '../../../electron/service/contract.ts';
import type { Painted } from '../map-view.ts';
import { type MapLayer, PAINTERS, type StyleContext } from '../styles.ts';
import { TILE_SIZE } from '../tile-grid.ts';
import type { Drape } from './render.ts';

/** Zoom the painted layers are asked for: the frame's longer side over four tiles. */
const ZOOM = 2;
/** Pixels of the picture's longer side; lines are drawn at this size, painted layers stretched to it. */
const LONGEST = 2048;

export interface Marks {
  layer: MapLayer;
  data: FeatureCollection | null;
}

/** The size of the largest picture laid over a frame. */
function drapeSize({ width, height }: Pick<FrameSummary, 'width' | 'height'>) {
  const longest = Math.max(width, height);
  return {
    width: Math.round((LONGEST * width) / longest),
    height: Math.round((LONGEST * height) / longest),
  };
}

/**
 * What the map shows of its painted layers and lines, as pictures over the whole frame, each half the one before:
 * a far view takes a small one, so that nothing flickers and lines keep their width. Letters and standing marks are
 * left to the view.
 */
export async function drapeOf(
  frame: FrameSummary,
  layers: readonly Painted[],
  marks: readonly Marks[],
  context: StyleContext,
  paper: string,
): Promise<Drape[]> {
  const size = drapeSize(frame);
  const painted = new OffscreenCanvas(size.width, size.height);
  const pen = painted.getContext('2d')!;
  pen.fillStyle = paper;
  pen.fillRect(0, 0, size.width, size.height);
  // The block has no divider: pictures that show on one side of it are left out.
  for (const layer of layers.filter(({ side }) => !side)) await paint(pen, frame, layer);
  return [1, 2, 4].map((share) => {
    const level = new OffscreenCanvas(Math.ceil(size.width / share), Math.ceil(size.height / share));
    const { width, height } = level;
    const fine = level.getContext('2d', { willReadFrequently: true })!;
    fine.imageSmoothingQuality = 'high';
    fine.drawImage(painted, 0, 0, width, height);
    for (const mark of marks) draw(fine, frame, width, mark, context);
    return { width, height, pixels: new Uint32Array(fine.getImageData(0, 0, width, height).data.buffer) };
  });
}

async function paint(
  pen: OffscreenCanvasRenderingContext2D,
  frame: FrameSummary,
  { fetch, opacity }: Painted,
): Promise<void> {
  const longest = Math.max(frame.width, frame.height);
  const side = LONGEST / 2 ** ZOOM;
  const [across, down] = [frame.width, frame.height].map((cells) => Math.ceil((cells / longest) * 2 ** ZOOM));
  const tiles = await Promise.all(
    Array.from({ length: across! * down! }, async (_, n) => {
      const [x, y] = [n % across!, Math.floor(n / across!)];
      const bytes = await fetch(ZOOM, x, y);
      return { x, y, image: await createImageBitmap(new Blob([bytes as Uint8Array<ArrayBuffer>])) };
    }),
  );
  pen.globalAlpha = opacity;
  for (const { x, y, image } of tiles)
    pen.drawImage(image, 0, 0, TILE_SIZE, TILE_SIZE, x * side, y * side, side, side);
  pen.globalAlpha = 1;
}

const format = new GeoJSON();

function draw(
  pen: OffscreenCanvasRenderingContext2D,
  frame: FrameSummary,
  width: number,
  { layer, data }: Marks,
  context: StyleContext,
): void {
  if (!data) return;
  const resolution = (frame.width * frame.cellSize) / width;
  const toPixels = (from: number[], to: number[] = from): number[] => {
    for (let i = 0; i < from.length; i += 2) {
      to[i] = (from[i]! - frame.west) / resolution;
      to[i + 1] = (frame.north - from[i + 1]!) / resolution;
    }
    return to;
  };
  const vector = toContext(pen as never, { pixelRatio: 1 });
  for (const feature of format.readFeatures(data)) {
    const styled = PAINTERS[layer](feature as FeatureLike, resolution, context);
    for (const style of [styled ?? []].flat()) {
      const [fill, stroke] = [style.getFill(), style.getStroke()];
      const geometry = style.getGeometryFunction()(feature) as Geometry | undefined;
      // Marks that stand, and letters, are not laid on the ground.
      if ((!fill && !stroke) || !geometry || geometry.getType().endsWith('Point')) continue;
      const flat = geometry.clone();
      flat.applyTransform(toPixels as never);
      vector.setFillStrokeStyle(fill ?? (null as never), stroke ?? (null as never));
      vector.drawGeometry(flat as never);
    }
  }
}
