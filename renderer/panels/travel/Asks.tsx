import type { Signal } from '@preact/signals';
import { formatShare } from '../../../core/features/units.ts';
import type { Point } from '../../../core/grid/frame.ts';
import type { AskedAnswer } from '../../../electron/service/contract.ts';
import { rowsOf } from '../../state/rows.ts';
import { table } from '../../state/tables.ts';
import {
  aimGoal,
  compareIfAsked,
  gather,
  goalWind,
  keepOut,
  type PairEnd,
  pair,
  standAsked,
} from '../../state/travel-asks.ts';

/** What a plan is for: two goals, the travel between two areas, and a stand. Every comparison answers them. */
export function Asks() {
  return (
    <details class="travel-for">
      <summary>
        <span class="travel-for-words">What the plan is for</span>
      </summary>
      <div class="goal">
        <button type="button" class="quiet small" onClick={() => aimGoal('gather')}>
          {gather.value ? 'Gather at another spot' : 'Gather travel past a spot'}
        </button>
        {gather.value && <Off what="the spot to gather at" of={gather} />}
      </div>
      <div class="goal">
        <button type="button" class="quiet small" onClick={() => aimGoal('keepOut')}>
          {keepOut.value ? 'Keep out of another spot’s wind' : 'Keep travel out of a spot’s downwind side'}
        </button>
        {keepOut.value && (
          <>
            <label class="length" for="goal-wind">
              <span>Wind from, degrees true</span>
              <input
                id="goal-wind"
                type="number"
                min="0"
                max="360"
                step="5"
                value={goalWind.value}
                onChange={(event) => {
                  const typed = event.currentTarget.valueAsNumber;
                  if (typed >= 0 && typed <= 360) {
                    goalWind.value = typed;
                    compareIfAsked();
                  } else event.currentTarget.value = String(goalWind.value);
                }}
              />
            </label>
            <Off what="the spot to keep out of" of={keepOut} />
          </>
        )}
      </div>
      <p class="facts">Both goals use the reach of the spot below.</p>
      <Pair />
      <Stand />
    </details>
  );
}

function Off({ what, of }: { what: string; of: Signal<Point | null> }) {
  return (
    <button
      type="button"
      class="quiet small"
      onClick={() => {
        of.value = null;
        compareIfAsked();
      }}
    >
      Take off<span class="unseen"> {what}</span>
    </button>
  );
}

const keyOf = (end: PairEnd): string => (typeof end === 'object' ? `feature ${end.feature}` : String(end));

/** Ends of travel by the number in their table, and those that a proposal would make. */
function Pair() {
  const areas: { end: PairEnd; name: string }[] = [
    ...(table('areas').value?.features ?? []).map(({ id, properties }) => ({
      end: Number(id),
      name: String(properties?.name ?? `area ${id}`),
    })),
    ...rowsOf('features', table('features').value)
      .filter(({ kind, status }) => status === 'proposed' && (kind === 'bedding' || kind === 'food'))
      .map(({ id, kind, name }) => ({ end: { feature: id }, name: `${name ?? kind} (proposed)` })),
  ];
  const now = pair.value;
  const set = (end: 'from' | 'to', text: string) => {
    const chosen = areas.find((area) => keyOf(area.end) === text)?.end ?? 'all';
    const next = { ...(now ?? { from: 'all', to: 'all' }), [end]: chosen } as NonNullable<typeof now>;
    pair.value = next.from === 'all' && next.to === 'all' ? null : next;
    compareIfAsked();
  };
  return (
    <div class="ask-form">
      {(['from', 'to'] as const).map((end) => (
        <label key={end} class="length" for={`pair-${end}`}>
          <span>{end === 'from' ? 'Travel from' : 'to'}</span>
          <select
            id={`pair-${end}`}
            value={keyOf(now?.[end] ?? 'all')}
            onChange={(event) => set(end, event.currentTarget.value)}
          >
            <option value="all">every area</option>
            {areas
              .filter((area) => keyOf(area.end) !== keyOf(now?.[end === 'from' ? 'to' : 'from'] ?? 'all'))
              .map(({ end, name }) => (
                <option key={keyOf(end)} value={keyOf(end)}>
                  {name}
                </option>
              ))}
          </select>
        </label>
      ))}
    </div>
  );
}

function Stand() {
  const stands = rowsOf('features', table('features').value).filter(({ kind }) => kind === 'stand');
  if (stands.length === 0) return null;
  return (
    <label class="length" for="asked-stand">
      <span>Within range of</span>
      <select
        id="asked-stand"
        value={standAsked.value ?? ''}
        onChange={(event) => {
          standAsked.value = event.currentTarget.value || null;
          compareIfAsked();
        }}
      >
        <option value="">no stand</option>
        {stands.map(({ id, name }) => (
          <option key={id} value={id}>
            {name ?? 'Stand'}
          </option>
        ))}
      </select>
    </label>
  );
}

/** What a comparison says of goals, stand and pair, in its own sentences. */
export function AskedAnswers({ of }: { of: AskedAnswer }) {
  const { goals, stand, pair: between } = of;
  const lines = [
    ...(goals?.sentences ?? []),
    ...(stand ? [stand.sentence] : []),
    ...(between?.sentences ?? []),
  ];
  return (
    <>
      {lines.map((line) => (
        <p key={line} class="para">
          {line}
        </p>
      ))}
      {between && between.necks.length > 0 && (
        <details>
          <summary>
            Necks, of travel from {between.from} to {between.to}
          </summary>
          <table>
            <thead>
              <tr>
                <th scope="col">Neck</th>
                <th scope="col" class="right">
                  Before
                </th>
                <th scope="col" class="right">
                  After
                </th>
              </tr>
            </thead>
            <tbody>
              {between.necks.map(({ id, rank, before, after }) => (
                <tr key={id}>
                  <th scope="row">{rank}</th>
                  <td class="right">{formatShare(before)}</td>
                  <td class="right">{formatShare(after)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </details>
      )}
    </>
  );
}
