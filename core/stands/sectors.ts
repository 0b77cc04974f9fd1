import type { Sector, SectorRun } from './types.ts';

/** What a reason says, whatever its numbers. */
const bare = (why: string): string => why.replace(/[\d.,]+/g, '');

const nearestOf = ({ behind }: Sector): number =>
  behind.find(({ stopped }) => !stopped)?.distance ?? Number.POSITIVE_INFINITY;

/** Reasons of some sectors, each once, in the words of the sector where what lies in the way is nearest. */
function reasonsOf(sectors: readonly Sector[]): string[] {
  const found = new Map<string, string>();
  for (const { reasons } of sectors.toSorted((a, b) => nearestOf(a) - nearestOf(b)))
    for (const why of reasons) if (!found.has(bare(why))) found.set(bare(why), why);
  return [...found.values()];
}

const alike = (a: Sector, b: Sector): boolean =>
  a.state === b.state && bare(a.reasons[0] ?? '') === bare(b.reasons[0] ?? '');

/** Neighbouring sectors of one state with the same reason first as one; north is where they begin. */
export function gathered(sectors: readonly Sector[]): SectorRun[] {
  const runs: Sector[][] = [];
  for (const sector of sectors) {
    const last = runs.at(-1)?.at(-1);
    if (last && last.to === sector.from && alike(last, sector)) runs.at(-1)!.push(sector);
    else runs.push([sector]);
  }
  return runs.map((own) => ({
    from: own[0]!.from,
    to: own.at(-1)!.to,
    state: own[0]!.state,
    stops: own.some(({ stops }) => stops === null) ? null : Math.max(...own.map(({ stops }) => stops!)),
    meets: flattest(own),
    reasons: reasonsOf(own),
  }));
}

function flattest(sectors: readonly Sector[]): number | null {
  const met = sectors.flatMap(({ meets }) => (meets === null ? [] : [meets]));
  return met.length > 0 ? Math.min(...met) : null;
}

/** Everything found alike, all round: its directions and why. A span that runs on past north is one. */
export function sectorKinds(
  sectors: readonly Sector[],
): (Pick<Sector, 'state' | 'reasons'> & { spans: { from: number; to: number }[] })[] {
  const kinds: Sector[][] = [];
  for (const sector of sectors) {
    const known = kinds.find(([first]) => alike(first!, sector));
    if (known) known.push(sector);
    else kinds.push([sector]);
  }
  return kinds.map((own) => ({ state: own[0]!.state, reasons: reasonsOf(own), spans: spansOf(own) }));
}

function spansOf(sectors: readonly Sector[]): { from: number; to: number }[] {
  const spans: { from: number; to: number }[] = [];
  for (const { from, to } of sectors) {
    const last = spans.at(-1);
    if (last?.to === from) last.to = to;
    else spans.push({ from, to });
  }
  const [first, last] = [spans[0]!, spans.at(-1)!];
  if (spans.length > 1 && first.from === 0 && last.to === 360) {
    last.to = 360 + first.to;
    spans.shift();
  }
  return spans;
}
