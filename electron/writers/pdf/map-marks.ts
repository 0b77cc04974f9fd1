import type { Artifacts } from '../../../core/analysis/artifacts.ts';
import type { ReportMap } from '../../../core/analysis/report.ts';
import { middleOf, pathsOf } from '../../../core/features/shapes.ts';
import type { MapKey } from './map-lines.ts';
import { type MapView, toSheet } from './map-view.ts';
import { INK, type Paper, sayable } from './paper.ts';

/** What a page's map is about: its features in a halo, rings of reach, numbered stops. */

const HALO = '#ffd24a';

/** Drawn before the lines, so that the halo lies under them. */
export function drawFocus(paper: Paper, view: MapView, map: ReportMap, artifacts: Artifacts): void {
  for (const feature of artifacts.features) {
    if (!map.focus?.includes(feature.id)) continue;
    const paths = pathsOf(feature.geometry);
    paper.save().strokeOpacity(0.75).fillOpacity(0.75).lineJoin('round').lineCap('round');
    for (const path of paths) {
      paper.moveTo(...toSheet(view, path[0]!));
      for (const point of path.slice(1)) paper.lineTo(...toSheet(view, point));
      paper.lineWidth(9).stroke(HALO);
    }
    const at = paths.length === 0 ? middleOf(feature.geometry) : null;
    if (at) paper.circle(...toSheet(view, at), 11).fill(HALO);
    paper.restore();
  }
}

/** How a direction was found is told by the dash of its arc and by a sign, not by colour alone. */
const ARCS = {
  closed: { label: 'Closed', colour: '#a3114f', width: 3, dash: null, sign: 'x' },
  unknown: { label: 'Not known', colour: '#5b635e', width: 2, dash: [1, 3], sign: '?' },
  open: { label: 'Open: nothing close behind', colour: '#c8570a', width: 2.4, dash: [5, 3], sign: '!' },
  checked: { label: 'Ground close behind, checked', colour: '#0c6068', width: 1.2, dash: null, sign: '' },
} as const;
type Arc = keyof typeof ARCS;

function stroked(paper: Paper, arc: Arc): void {
  const { colour, width, dash } = ARCS[arc];
  if (dash) paper.dash(dash[0], { space: dash[1] });
  paper.lineWidth(width).stroke(colour).undash();
}

/** Just outside the ring of range: an arc for each direction, with its sign where it is not checked. */
function drawSectors(paper: Paper, view: MapView, sectors: NonNullable<ReportMap['sectors']>): MapKey[] {
  const OUT = 5;
  for (const { at, radius, from, to, state } of sectors) {
    const [x, y] = toSheet(view, at);
    const size = radius / view.scale + OUT;
    const spot = (bearing: number, r: number): [number, number] => [
      x + r * Math.sin((bearing * Math.PI) / 180),
      y - r * Math.cos((bearing * Math.PI) / 180),
    ];
    paper.moveTo(...spot(from, size));
    for (let bearing = from + 1; bearing <= to; bearing++) paper.lineTo(...spot(bearing, size));
    stroked(paper, state);
    const { sign, colour } = ARCS[state];
    if (sign === '') continue;
    const [sx, sy] = spot((from + to) / 2, size + 6);
    paper.font('strong').fontSize(6.5).fillColor(colour);
    paper.text(sign, sx - 6, sy - 4, { width: 12, align: 'center', lineBreak: false });
  }
  const found = new Set(sectors.map(({ state }) => state));
  return (Object.keys(ARCS) as Arc[])
    .filter((arc) => found.has(arc))
    .map((arc) => ({
      label: ARCS[arc].sign === '' ? ARCS[arc].label : `${ARCS[arc].label} (${ARCS[arc].sign})`,
      draw(sheet, x, y) {
        sheet.moveTo(x, y).lineTo(x + 20, y);
        stroked(sheet, arc);
      },
    }));
}

/** Drawn over the lines; answers with what the legend must explain. */
export function drawMarks(paper: Paper, view: MapView, map: ReportMap): MapKey[] {
  for (const { at, radius, label } of map.reach ?? []) {
    const [x, y] = toSheet(view, at);
    const size = radius / view.scale;
    paper.circle(x, y, size).dash(4, { space: 2.5 }).lineWidth(1.4).stroke(INK.caution).undash();
    paper.font('strong').fontSize(7.5).fillColor(INK.caution);
    paper.text(sayable(label), x - 20, y - size - 10, { width: 40, align: 'center', lineBreak: false });
  }
  const arcs = drawSectors(paper, view, map.sectors ?? []);
  for (const { at, label } of map.marks ?? []) numbered(paper, ...toSheet(view, at), label);
  return [
    ...(map.focus?.length ? [{ label: 'What this page is about', draw: halo }] : []),
    ...(map.reach?.length ? [{ label: 'Range kept to', draw: ring }] : []),
    ...arcs,
    ...(map.marks?.length
      ? [{ label: 'Stop', draw: (sheet: Paper, x: number, y: number) => numbered(sheet, x + 10, y, '1') }]
      : []),
  ];
}

function numbered(paper: Paper, x: number, y: number, label: string): void {
  paper
    .roundedRect(x - 7, y - 6.5, 14, 13, 3)
    .lineWidth(1)
    .fillAndStroke(INK.text, '#ffffff');
  paper.font('strong').fontSize(8).fillColor('#ffffff');
  paper.text(label, x - 7, y - 5, { width: 14, align: 'center', lineBreak: false });
}

function halo(paper: Paper, x: number, y: number): void {
  paper
    .moveTo(x, y)
    .lineTo(x + 20, y)
    .lineWidth(7)
    .strokeOpacity(0.75)
    .stroke(HALO)
    .strokeOpacity(1);
}

function ring(paper: Paper, x: number, y: number): void {
  paper
    .circle(x + 10, y, 5)
    .dash(3, { space: 2 })
    .lineWidth(1.2)
    .stroke(INK.caution)
    .undash();
}
