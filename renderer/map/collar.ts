import type OlMap from 'ol/Map.js';
import { roundStep, ticks } from './tile-grid.ts';

/**
 * The printed-map collar round the map: a ruled edge with grid eastings along the top and northings down the left
 * side, redrawn as the map moves. Canvas, because ticks move with every frame of a pan.
 */
export function drawCollar(
  canvas: HTMLCanvasElement,
  map: OlMap,
  colours: { ink: string; paper: string; faint: string },
  band: number,
): void {
  const ratio = window.devicePixelRatio || 1;
  const width = canvas.clientWidth;
  const height = canvas.clientHeight;
  if (canvas.width !== Math.round(width * ratio) || canvas.height !== Math.round(height * ratio)) {
    canvas.width = Math.round(width * ratio);
    canvas.height = Math.round(height * ratio);
  }
  const pen = canvas.getContext('2d');
  const resolution = map.getView().getResolution();
  const centre = map.getView().getCenter();
  if (!pen || !resolution || !centre) return;
  pen.setTransform(ratio, 0, 0, ratio, 0, 0);
  pen.clearRect(0, 0, width, height);
  pen.fillStyle = colours.paper;
  pen.fillRect(0, 0, width, band);
  pen.fillRect(0, 0, band, height);
  pen.strokeStyle = colours.faint;
  pen.lineWidth = 1;
  pen.strokeRect(band - 0.5, band - 0.5, width, height);

  const mapWidth = width - band;
  const mapHeight = height - band;
  const west = centre[0]! - (mapWidth / 2) * resolution;
  const north = centre[1]! + (mapHeight / 2) * resolution;
  const step = roundStep(resolution, 130);
  pen.font = '600 11px "Source Sans 3", sans-serif';
  pen.fillStyle = colours.ink;
  pen.strokeStyle = colours.ink;
  pen.textBaseline = 'middle';

  pen.textAlign = 'center';
  for (const easting of ticks(west, west + mapWidth * resolution, step)) {
    const x = band + (easting - west) / resolution;
    mark(pen, x, band - 5, x, band);
    if (x > band + 30 && x < width - 30) pen.fillText(String(Math.round(easting)), x, band / 2 - 2);
  }
  for (const northing of ticks(north - mapHeight * resolution, north, step)) {
    const y = band + (north - northing) / resolution;
    mark(pen, band - 5, y, band, y);
    if (y < band + 34 || y > height - 34) continue;
    pen.save();
    pen.translate(band / 2 - 2, y);
    pen.rotate(-Math.PI / 2);
    pen.fillText(String(Math.round(northing)), 0, 0);
    pen.restore();
  }
}

function mark(pen: CanvasRenderingContext2D, x1: number, y1: number, x2: number, y2: number): void {
  pen.beginPath();
  pen.moveTo(Math.round(x1) + 0.5, Math.round(y1) + 0.5);
  pen.lineTo(Math.round(x2) + 0.5, Math.round(y2) + 0.5);
  pen.stroke();
}
