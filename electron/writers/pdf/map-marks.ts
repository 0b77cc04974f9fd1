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

/** Drawn over the lines; answers with what the legend must explain. */
export function drawMarks(paper: Paper, view: MapView, map: ReportMap): MapKey[] {
  for (const { at, radius, label } of map.reach ?? []) {
    const [x, y] = toSheet(view, at);
    const size = radius / view.scale;
    paper.circle(x, y, size).dash(4, { space: 2.5 }).lineWidth(1.4).stroke(INK.caution).undash();
    paper.font('strong').fontSize(7.5).fillColor(INK.caution);
    paper.text(sayable(label), x - 20, y - size - 10, { width: 40, align: 'center', lineBreak: false });
  }
  for (const { at, label } of map.marks ?? []) numbered(paper, ...toSheet(view, at), label);
  return [
    ...(map.focus?.length ? [{ label: 'What this page is about', draw: halo }] : []),
    ...(map.reach?.length ? [{ label: 'Range kept to', draw: ring }] : []),
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
