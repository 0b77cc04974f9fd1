/** How large the parts of a page are set, points. */
export interface TypeSizes {
  title: number;
  paragraph: number;
  /** Added between the lines of a paragraph, and after it. */
  leading: number;
  afterParagraph: number;
  afterParagraphs: number;
  caption: number;
  /** Of a table's rows, added between their lines, and above and below them. */
  row: number;
  rowLeading: number;
  rowPad: number;
  /** Left and right of a cell's words. */
  cellPad: number;
  afterTable: number;
  /** Of doubts and cautions. */
  heading: number;
  point: number;
  pointLeading: number;
  afterPoint: number;
  afterList: number;
  /** Kept free at the foot for the line that points to the annex. */
  pointer: number;
  /** From one line of a map's legend to the next. */
  key: number;
}

/** Pages that are read at a desk. */
export const USUAL: TypeSizes = {
  title: 19,
  paragraph: 10,
  leading: 1.5,
  afterParagraph: 6,
  afterParagraphs: 4,
  caption: 10,
  row: 8.5,
  rowLeading: 0.5,
  rowPad: 2.2,
  cellPad: 5,
  afterTable: 12,
  heading: 11,
  point: 9.5,
  pointLeading: 1,
  afterPoint: 3,
  afterList: 8,
  pointer: 16,
  key: 14,
};

/** The first page: findings, jobs, doubts and caution all stand on it. */
export const FRONT: TypeSizes = {
  ...USUAL,
  leading: 1,
  afterParagraph: 4,
  rowPad: 1.6,
  afterTable: 9,
  heading: 10,
  point: 9,
  pointLeading: 0.5,
  afterPoint: 2,
  pointer: 8,
};

/** A card that is taken along: all of a stand on one side of one sheet. */
export const CLOSE: TypeSizes = {
  title: 16,
  paragraph: 8.5,
  leading: -0.6,
  afterParagraph: 2.5,
  afterParagraphs: 2,
  caption: 8.5,
  row: 8,
  rowLeading: -0.5,
  rowPad: 0.9,
  cellPad: 3,
  afterTable: 6,
  heading: 9,
  point: 8,
  pointLeading: -0.4,
  afterPoint: 1.5,
  afterList: 2,
  pointer: 4,
  key: 12,
};
