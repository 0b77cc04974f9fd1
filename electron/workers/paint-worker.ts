import { parentPort } from 'node:worker_threads';
import type { PaintSource } from '../writers/layers.ts';
import { encodePng, paintWindow } from '../writers/paint.ts';
import type { FromPaintWorker, ToPaintWorker } from './painter.ts';
import { packTrouble } from './worker-trouble.ts';

const port = parentPort;
if (!port) throw new Error('paint-worker runs as a worker thread');

/** What has been sent so far; a layer's source comes again only when it has changed. */
const source: PaintSource = {};

port.on('message', ({ id, layer, window, changed }: ToPaintWorker) => {
  Object.assign(source, changed);
  try {
    const png = Uint8Array.from(encodePng(paintWindow(layer, source, window), window.width, window.height));
    port.postMessage({ id, png } satisfies FromPaintWorker, [png.buffer]);
  } catch (error) {
    port.postMessage({ id, trouble: packTrouble(error) } satisfies FromPaintWorker);
  }
});
