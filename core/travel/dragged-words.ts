import { formatShare } from '../features/units.ts';

/** A neck's share of all travel today and with what is dragged. */
interface NeckMoved {
  id: string;
  rank: number;
  before: number;
  after: number;
}

/** Told besides the neck asked about, and from how much of all travel on. Our choices. */
const MOST = 3;
const LEAST = 0.005;

/** The neck asked about, or else the best, and then those whose share changes most. */
export function tellFirst<N extends NeckMoved>(necks: readonly N[], asked: string | null): N[] {
  const byRank = necks.toSorted((a, b) => a.rank - b.rank);
  const first = necks.find(({ id }) => id === asked) ?? byRank[0];
  if (!first) return [];
  const change = ({ before, after }: N): number => Math.abs(after - before);
  const others = byRank
    .filter((neck) => neck !== first && change(neck) >= LEAST)
    .sort((a, b) => change(b) - change(a))
    .slice(0, MOST);
  return [first, ...others];
}

/** What a proposal does where it is dragged to. */
export function draggedSentences({
  line,
  moved,
  cutOff,
}: {
  line: { before: number; after: number };
  moved: readonly { share: number }[];
  cutOff: number;
}): string[] {
  const share = moved.reduce((sum, each) => sum + each.share, 0);
  return [
    line.before < LEAST / 10
      ? 'Hardly any travel meets it here.'
      : `${formatShare(line.before)} of all travel meets it here, and ${formatShare(line.after)} still gets across.`,
    moved.length === 0
      ? 'No line of travel runs elsewhere.'
      : `Lines that stand for ${formatShare(share)} of travel run elsewhere.`,
    ...(cutOff > 0
      ? [`It leaves ${cutOff === 1 ? 'one pair' : `${cutOff} pairs`} of areas no way to each other.`]
      : []),
  ];
}
