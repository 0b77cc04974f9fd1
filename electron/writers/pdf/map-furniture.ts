import { decimal, FOOT, lengthUnit, MILE, type Units, whole, YARD } from '../../../core/features/units.ts';
import type { MapView } from './map-view.ts';
import { INK, type Paper } from './paper.ts';

/** What makes a picture a map: coordinates at its edge, a scale, north. */

/** 1, 2 or 5 times a power of ten, the largest not above a value. */
export function roundBelow(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value));
  const lead = value / power;
  return (lead >= 5 ? 5 : lead >= 2 ? 2 : 1) * power;
}

/** Distance between grid lines: a round number of metres, some three or four across the figure. */
const gridStep = ({ width, scale }: MapView): number => roundBelow((width * scale) / 3.5);

/** The grid itself, fine and pale, at the ticks. */
export function drawGrid(paper: Paper, view: MapView): void {
  const { x, y, width, height, west, north, scale } = view;
  const step = gridStep(view);
  for (let easting = Math.ceil(west / step) * step; easting <= west + width * scale; easting += step) {
    const at = x + (easting - west) / scale;
    paper.moveTo(at, y).lineTo(at, y + height);
  }
  for (let northing = Math.floor(north / step) * step; northing >= north - height * scale; northing -= step) {
    const at = y + (north - northing) / scale;
    paper.moveTo(x, at).lineTo(x + width, at);
  }
  paper.lineWidth(0.35).strokeOpacity(0.35).stroke(INK.text).strokeOpacity(1);
}

/** Ticks of easting and northing along the left and lower edge, at round hundreds or thousands of metres. */
export function drawTicks(paper: Paper, view: MapView): void {
  const { x, y, width, height, west, north, scale } = view;
  const step = gridStep(view);
  paper.font('text').fontSize(6.5).fillColor(INK.quiet).lineWidth(0.5).strokeColor(INK.quiet);
  for (let easting = Math.ceil(west / step) * step; easting <= west + width * scale; easting += step) {
    const at = x + (easting - west) / scale;
    paper
      .moveTo(at, y + height)
      .lineTo(at, y + height + 3)
      .stroke(INK.quiet);
    if (at > x + 18 && at < x + width - 18) {
      paper.text(`${whole(easting)} E`, at - 30, y + height + 4, {
        width: 60,
        align: 'center',
        lineBreak: false,
      });
    }
  }
  const south = north - height * scale;
  for (let northing = Math.ceil(south / step) * step; northing <= north; northing += step) {
    const at = y + (north - northing) / scale;
    paper
      .moveTo(x - 3, at)
      .lineTo(x, at)
      .stroke(INK.quiet);
    if (at < y + 18 || at > y + height - 18) continue;
    paper.save().rotate(-90, { origin: [x - 5, at] });
    paper.text(`${whole(northing)} N`, x - 35, at - 7, { width: 60, align: 'center', lineBreak: false });
    paper.restore();
  }
}

const SPANS: Record<Units, { metres: number; unit: string }[]> = {
  us: [
    { metres: MILE, unit: 'mi' },
    { metres: YARD, unit: 'yd' },
  ],
  metric: [
    { metres: 1000, unit: 'km' },
    { metres: 1, unit: lengthUnit('distance', 'metric') },
  ],
};

/** A bar of a round length about a fifth of the figure wide, in the lower left corner. */
export function drawScaleBar(paper: Paper, view: MapView, units: Units): void {
  const longest = view.width * 0.28 * view.scale;
  const span = SPANS[units].find(({ metres }) => longest / metres >= 0.5) ?? SPANS[units][1]!;
  const count = span.metres >= 1000 && longest / span.metres < 1 ? 0.5 : roundBelow(longest / span.metres);
  const length = (count * span.metres) / view.scale;
  const left = view.x + 10;
  const top = view.y + view.height - 14;
  paper
    .rect(left - 5, top - 14, Math.max(length, 40) + 10, 23)
    .fillOpacity(0.82)
    .fill('#ffffff')
    .fillOpacity(1);
  paper.rect(left, top, length / 2, 3.5).fill(INK.text);
  paper.rect(left, top, length, 3.5).lineWidth(0.7).stroke(INK.text);
  paper.font('strong').fontSize(7.5).fillColor(INK.text);
  const text = `${count < 1 ? decimal(count, 1) : whole(count)} ${span.unit}`;
  paper.text(text, left, top - 11, { lineBreak: false });
}

/** An arrow to true north in the upper right corner; the sheet's own up is grid north. */
export function drawNorth(paper: Paper, view: MapView, convergence: number): void {
  const x = view.x + view.width - 18;
  const y = view.y + 24;
  paper.circle(x, y, 15).fillOpacity(0.82).fill('#ffffff').fillOpacity(1);
  // Grid north lies clockwise of true north by the convergence, so true north lies that far the other way.
  paper.save().rotate(-convergence, { origin: [x, y] });
  paper.polygon([x, y - 12], [x + 4.5, y + 4], [x, y + 1], [x - 4.5, y + 4]).fill(INK.text);
  paper
    .font('strong')
    .fontSize(7.5)
    .fillColor(INK.text)
    .text('N', x - 2.6, y + 4.5, { lineBreak: false });
  paper.restore();
}

/**
 * What a stretch on the sheet is on the ground, in words.
 *
 * @param magnified points of the page to one that is drawn with
 */
export function scaleInWords(view: MapView, units: Units, magnified = 1): string {
  const metres = (72 * view.scale) / magnified;
  const [stretch, ground] = units === 'metric' ? ['1 cm', metres / 2.54] : ['1 inch', metres / FOOT];
  const step = roundBelow(ground / 50);
  return `${stretch} on the map is about ${whole(Math.round(ground / step) * step)} ${units === 'metric' ? 'm' : 'ft'} on the ground`;
}
