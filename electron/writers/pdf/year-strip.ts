import { capital } from '../../../core/features/units.ts';
import type { StripRow } from '../../../core/plan/types.ts';
import { columnOf, INK, MARGIN, type Paper, roomLeft, sayable } from './paper.ts';

/** A strip of the year: one row a kind of work or restraint, bars on the days; restraints are hatched as well. */

const ROW = 13;
const LABEL = 96;
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** Share of the year before a day MM-DD. */
function placeOf(day: string, end: boolean): number {
  const [month, date] = day.split('-').map(Number) as [number, number];
  const before = DAYS.slice(0, month - 1).reduce((sum, days) => sum + days, 0);
  return (before + Math.min(date, DAYS[month - 1]!) - (end ? 0 : 1)) / 365;
}

export function drawStrip(
  paper: Paper,
  section: PDFKit.PDFStructureElement,
  rows: readonly StripRow[],
): void {
  if (rows.length === 0) return;
  if (roomLeft(paper) < rows.length * ROW + 30) paper.addPage();
  const alt = `The year in a strip. ${rows
    .map(
      ({ label, spans }) =>
        `${label}: ${spans.map(({ from, to }) => `${from} to ${to}`).join(', ') || 'never'}`,
    )
    .join('. ')}.`;
  section.add(
    paper.struct('Figure', { alt }, () => {
      const left = MARGIN + LABEL;
      const width = columnOf(paper) - LABEL;
      const top = paper.y + 12;
      const bottom = top + rows.length * ROW;
      paper.font('text').fontSize(7.5);
      let start = 0;
      for (const [month, name] of MONTHS.entries()) {
        const x = left + (width * start) / 365;
        paper.moveTo(x, top).lineTo(x, bottom).lineWidth(0.4).stroke(INK.rule);
        paper.fillColor(INK.quiet).text(name, x + 2, top - 10, { lineBreak: false });
        start += DAYS[month]!;
      }
      for (const [index, { label, kind, spans }] of rows.entries()) {
        const y = top + index * ROW;
        paper
          .font(kind === 'work' ? 'strong' : 'text')
          .fontSize(8)
          .fillColor(INK.text);
        paper.text(sayable(capital(label)), MARGIN, y + 1.5, {
          lineBreak: false,
        });
        for (const { from, to } of spans) {
          const [a, b] = [placeOf(from, false), placeOf(to, true)];
          for (const [p, q] of a < b
            ? [[a, b]]
            : [
                [a, 1],
                [0, b],
              ])
            bar(paper, left + width * p!, y + 2, width * (q! - p!), ROW - 4, kind);
        }
      }
      paper
        .rect(left, top, width, bottom - top)
        .lineWidth(0.6)
        .stroke(INK.text);
      paper.y = bottom + 6;
    }),
  );
  paper.x = MARGIN;
  paper.y += 8;
}

function bar(
  paper: Paper,
  x: number,
  y: number,
  width: number,
  height: number,
  kind: StripRow['kind'],
): void {
  if (kind === 'work') {
    paper.rect(x, y, width, height).fill(INK.accent);
    return;
  }
  paper.save();
  paper.rect(x, y, width, height).clip();
  for (let at = x - height; at < x + width; at += 4) paper.moveTo(at, y + height).lineTo(at + height, y);
  paper.lineWidth(0.9).stroke(INK.quiet);
  paper.restore();
  paper.rect(x, y, width, height).lineWidth(0.5).stroke(INK.quiet);
}
