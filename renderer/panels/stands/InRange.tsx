import { compassWord, formatArea, formatLength, formatShare } from '../../../core/features/units.ts';
import type { Passing } from '../../../core/stands/types.ts';
import type { StandLookAnswer } from '../../../electron/service/contract.ts';
import { rowsOf } from '../../state/rows.ts';
import { units } from '../../state/session.ts';
import { leaves, look } from '../../state/stands-asks.ts';
import { table } from '../../state/tables.ts';
import { PASSING_WORDS } from '../../words/stands.ts';
import { Asking } from '../Asking.tsx';
import { Lines, Section } from '../Finding.tsx';
import { OverlayLegend } from '../LegendRows.tsx';
import { Fire } from './Fire.tsx';
import { StandRules } from './StandRules.tsx';

/** What the stand reaches and sees, what lies behind a deer, lanes to cut, and what deer see of the hunter. */
export function InRange() {
  const answer = look.answer.value;
  return (
    <>
      <section class="answer" aria-label="In range" aria-live="polite">
        <label class="length" for="stand-leaves">
          <span>Leaves</span>
          <select
            id="stand-leaves"
            value={leaves.value ?? answer?.reach.leaves ?? 'off'}
            onChange={(event) => {
              leaves.value = event.currentTarget.value === 'on' ? 'on' : 'off';
            }}
          >
            <option value="on">on the trees</option>
            <option value="off">down</option>
          </select>
        </label>
        <Asking of={look} what="Looking round from the seat" />
        {answer && <Looked answer={answer} />}
      </section>
      <StandRules />
    </>
  );
}

function Looked({ answer }: { answer: StandLookAnswer }) {
  const { reach, overlay } = answer;
  const u = units.value;
  const share = (of: number | null) => (of === null ? 'no drawn routes' : formatShare(of));
  return (
    <>
      {reach.sentences.map((line) => (
        <p key={line} class="para">
          {line}
        </p>
      ))}
      <OverlayLegend of={overlay} />
      <dl class="measures">
        <div>
          <dt>Ground in range</dt>
          <dd>{formatArea(reach.area, u)}</dd>
        </div>
        <div>
          <dt>Of it in clear view</dt>
          <dd>{formatArea(reach.clearArea, u)}</dd>
        </div>
        <div>
          <dt>Travel in range</dt>
          <dd>{share(reach.shareInReach)}</dd>
        </div>
        <div>
          <dt>Travel in range and view</dt>
          <dd>{share(reach.shareInView)}</dd>
        </div>
        {reach.steepest !== null && (
          <div>
            <dt>Steepest shot</dt>
            <dd>
              {Math.abs(reach.steepest).toFixed(0)}° {reach.steepest < 0 ? 'up' : 'down'}
            </dd>
          </div>
        )}
      </dl>
      <Fire fire={reach.fire} />
      <Travel passings={reach.passings} />
      <Section title="Lanes to cut" count={reach.lanes.length}>
        {reach.lanes.length === 0 ? (
          <p class="empty">None would open travel that is not in view already.</p>
        ) : (
          <ul class="lines plain">
            {reach.lanes.map(({ id, sentence }) => (
              <li key={id}>{sentence}</li>
            ))}
          </ul>
        )}
      </Section>
      <Hidden concealment={reach.concealment} />
      <Lines title="What this cannot know" lines={reach.doubts} kind="doubts" />
    </>
  );
}

const SHOWN = 8;

function Travel({ passings }: { passings: readonly Passing[] }) {
  const u = units.value;
  const necks = rowsOf('necks', table('necks').value);
  const junctions = rowsOf('junctions', table('junctions').value);
  const listed = passings.filter(({ kind }) => kind !== 'route').toSorted((a, b) => b.share - a.share);
  if (listed.length === 0) return null;
  const nameOf = ({ kind, id }: Passing) => {
    const rank = (kind === 'neck' ? necks : junctions).find((row) => row.id === id)?.rank;
    return rank === undefined || kind === 'corridor' ? PASSING_WORDS[kind] : `${PASSING_WORDS[kind]} ${rank}`;
  };
  return (
    <Section title="Travel in range">
      <div class="table-scroll">
        <table>
          <caption class="unseen">Travel in range, the most first</caption>
          <thead>
            <tr>
              <th scope="col">What</th>
              <th scope="col" class="right">
                Share
              </th>
              <th scope="col" class="right">
                In view
              </th>
              <th scope="col">Nearest</th>
            </tr>
          </thead>
          <tbody>
            {listed.slice(0, SHOWN).map((each) => (
              <tr key={`${each.kind} ${each.id}`}>
                <th scope="row">{nameOf(each)}</th>
                <td class="right">{formatShare(each.share)}</td>
                <td class="right">{each.seen ? formatLength(each.inView, u) : 'no'}</td>
                <td>
                  {formatLength(each.nearest.slant, u)} {compassWord(each.nearest.bearing)}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </Section>
  );
}

function Hidden({ concealment }: { concealment: StandLookAnswer['reach']['concealment'] }) {
  const { sentences, directions } = concealment;
  return (
    <Section title="What deer see of the hunter">
      {sentences.map((line) => (
        <p key={line} class="para">
          {line}
        </p>
      ))}
      {directions.length > 0 && (
        <details class="methods">
          <summary>By direction</summary>
          <div class="table-scroll">
            <table>
              <thead>
                <tr>
                  <th scope="col">Deer to the</th>
                  <th scope="col" class="right">
                    In view
                  </th>
                  <th scope="col">Against</th>
                  <th scope="col" class="right">
                    Backing
                  </th>
                </tr>
              </thead>
              <tbody>
                {directions.map(({ bearing, seen, skyline, backing }) => (
                  <tr key={bearing}>
                    <th scope="row">
                      {compassWord(bearing)}, {Math.round(bearing)}°
                    </th>
                    <td class="right">{formatShare(seen)}</td>
                    <td>{skyline ? 'the sky' : 'ground or cover'}</td>
                    <td class="right">{formatShare(backing)}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        </details>
      )}
    </Section>
  );
}
