import type { Sector, SectorState } from './types.ts';

/** Neighbouring sectors found alike; bearings in degrees clockwise from grid north. */
export interface SectorRun {
  from: number;
  to: number;
  state: SectorState;
  why: string;
}

/** Neighbouring sectors of one state with the same reason first, whatever its numbers, as one. */
export function gathered(sectors: readonly Sector[]): SectorRun[] {
  const found: SectorRun[] = [];
  for (const { from, to, state, reasons } of sectors) {
    const why = reasons[0] ?? '';
    const last = found.at(-1);
    if (last && last.to === from && last.state === state && bare(last.why) === bare(why)) last.to = to;
    else found.push({ from, to, state, why });
  }
  return found;
}

const bare = (why: string): string => why.replace(/[\d.,]+/g, '');

/** Everything found alike, all round: its directions and the reason of the sector where what lies there is nearest. */
export function sectorKinds(
  sectors: readonly Sector[],
): { state: SectorState; why: string; runs: { from: number; to: number }[] }[] {
  const kinds = new Map<string, { state: SectorState; why: string; nearest: number; own: Sector[] }>();
  for (const sector of sectors) {
    const { state, reasons, behind } = sector;
    const why = reasons[0] ?? '';
    const key = `${state} ${bare(why)}`;
    const nearest = behind.find(({ stopped }) => !stopped)?.distance ?? Number.POSITIVE_INFINITY;
    const known = kinds.get(key);
    if (!known) kinds.set(key, { state, why, nearest, own: [sector] });
    else {
      known.own.push(sector);
      if (nearest < known.nearest) Object.assign(known, { why, nearest });
    }
  }
  return [...kinds.values()].map(({ state, why, own }) => ({ state, why, runs: runsOf(own) }));
}

/** Spans of neighbouring sectors; one that runs on past north is one. */
function runsOf(sectors: readonly Sector[]): { from: number; to: number }[] {
  const runs: { from: number; to: number }[] = [];
  for (const { from, to } of sectors) {
    const last = runs.at(-1);
    if (last?.to === from) last.to = to;
    else runs.push({ from, to });
  }
  const [first, last] = [runs[0]!, runs.at(-1)!];
  if (runs.length > 1 && first.from === 0 && last.to === 360) {
    last.to = 360 + first.to;
    runs.shift();
  }
  return runs;
}
