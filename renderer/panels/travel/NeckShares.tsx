import { formatShare } from '../../../core/features/units.ts';

/** Less than this of all travel is no move worth an arrow. */
const NOTHING = 0.005;

/** Shares of all travel at necks before and after a change, as numbers and as bars. */
export function NeckShares({
  caption,
  necks,
}: {
  caption: string;
  /** Null on the side where a place is no neck. */
  necks: readonly { name: string; before: number | null; after: number | null }[];
}) {
  const most = Math.max(...necks.flatMap(({ before, after }) => [before ?? 0, after ?? 0]), 0.01);
  return (
    <div class="table-scroll">
      <table>
        <caption>{caption}; bars: before above, after below</caption>
        <thead>
          <tr>
            <th scope="col">Neck</th>
            <th scope="col" class="right">
              Before
            </th>
            <th scope="col" class="right">
              After
            </th>
            <th scope="col">
              <span class="unseen">Drawn</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {necks.map(({ name, before, after }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td class="right">{before === null ? 'none' : formatShare(before)}</td>
              <td class="right">
                {arrow(before ?? 0, after ?? 0)}
                {after === null ? 'none' : formatShare(after)}
              </td>
              <td>
                <svg class="shift" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
                  <rect class="shift-before" x="0" y="1" height="3" width={(100 * (before ?? 0)) / most} />
                  <rect class="shift-after" x="0" y="6" height="3" width={(100 * (after ?? 0)) / most} />
                </svg>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

const arrow = (before: number, after: number): string =>
  after > before + NOTHING ? '▲ ' : after < before - NOTHING ? '▼ ' : '';
