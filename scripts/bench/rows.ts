/** One line of the bench's answer, as `--json` writes it. */
export interface Row {
  kernel: string;
  data: string;
  cells: number;
  oursMcellPerS: number;
  peer: string;
  /** null where the peer is not installed, or there is none. */
  peerMcellPerS: number | null;
  ratio: number | null;
}

export function rowOf(
  kernel: string,
  data: string,
  cells: number,
  seconds: number,
  peer: string,
  peerSeconds: number | undefined,
): Row {
  const rate = (time: number): number => cells / 1e6 / time;
  return {
    kernel,
    data,
    cells,
    oursMcellPerS: round(rate(seconds)),
    peer,
    peerMcellPerS: peerSeconds === undefined ? null : round(rate(peerSeconds)),
    ratio: peerSeconds === undefined ? null : round(peerSeconds / seconds),
  };
}

const round = (value: number): number => Number(value.toPrecision(3));

export function printRows(rows: readonly Row[]): void {
  const cell = (text: string, width: number): string => text.padStart(width);
  console.log(
    `${'kernel'.padEnd(24)}${cell('Mcell', 7)}${cell('ours/s', 9)}${cell('peer/s', 9)}${cell('ratio', 8)}  peer`,
  );
  for (const row of rows) {
    console.log(
      row.kernel.padEnd(24) +
        cell((row.cells / 1e6).toFixed(2), 7) +
        cell(row.oursMcellPerS.toString(), 9) +
        cell(row.peerMcellPerS?.toString() ?? '-', 9) +
        cell(row.ratio === null ? '-' : `${row.ratio}x`, 8) +
        `  ${row.peer}`,
    );
  }
}
