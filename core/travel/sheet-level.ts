import {
  addToRow,
  addToSpares,
  answerRow,
  answerSpares,
  type Gathering,
  gatherRest,
  gatherRow,
  type Sheet,
  sweepBackRowNoting,
  sweepBackSpares,
  sweepRow,
  sweepSpares,
  tieSpares,
  untieSpares,
} from './sheet.ts';

/** A sheet, gathered into a smaller one. */
export interface SheetLevel {
  sheet: Sheet;
  gathering: Gathering;
}

/** The same as `smoothNet`, for a sheet: row by row, while the rows are at hand. */
export function smoothSheet(
  { sheet, gathering }: SheetLevel,
  right: Float64Array,
  out: Float64Array,
  flow: Float64Array,
  below: Float64Array,
  solveBelow: () => Float64Array,
): void {
  const { height } = sheet;
  sweepSpares(sheet, right, out);
  tieSpares(sheet, right, out);
  for (let row = 0; row < height; row++) {
    sweepRow(sheet, row, right, out);
    if (row > 0) gatherRow(sheet, row - 1, out, below);
  }
  gatherRow(sheet, height - 1, out, below);
  untieSpares(sheet, right, null);
  gatherRest(sheet, gathering, out, below);

  const coarse = solveBelow();

  addToSpares(sheet, gathering, out, coarse);
  tieSpares(sheet, right, out);
  let strays = addToRow(sheet, gathering, gathering.strays.length, height - 1, out, coarse);
  for (let row = height - 1; row >= 0; row--) {
    if (row > 0) strays = addToRow(sheet, gathering, strays, row - 1, out, coarse);
    sweepBackRowNoting(sheet, row, right, out, flow);
    if (row + 1 < height) answerRow(sheet, row + 1, right, flow);
  }
  answerRow(sheet, 0, right, flow);
  untieSpares(sheet, right, flow);
  sweepBackSpares(sheet, right, out, flow);
  answerSpares(sheet, right, flow);
}
