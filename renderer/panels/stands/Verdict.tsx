import { signal } from '@preact/signals';
import { formatShare } from '../../../core/features/units.ts';
import type { CaseRow, VerdictAnswer } from '../../../electron/service/contract.ts';
import { units } from '../../state/session.ts';
import { seatAt, standsReady } from '../../state/stands-asks.ts';
import { judge, verdict, verdictDay } from '../../state/stands-when.ts';
import { STATE_WORDS, spell, windWords } from '../../words/air.ts';
import { bearingOf, HUNT_SIGNS } from '../../words/stands.ts';
import { Asking } from '../Asking.tsx';
import { Lines, Section } from '../Finding.tsx';
import { type WindCell, WindGrid, type WindMark } from '../WindGrid.tsx';
import { HuntRules } from './HuntRules.tsx';
import { bandWords, hoursWords, shareOrUnknown } from './shares.ts';
import { Arrive, waysWords } from './ways.tsx';

const chosenCase = signal<WindCell | null>(null);

/** What the season makes of one stand: hours a week, its best winds, what spoils the rest, and every case behind it. */
export function Verdict() {
  const answer = verdict.answer.value;
  return (
    <>
      <form
        class="ask-form"
        onSubmit={(event) => {
          event.preventDefault();
          judge();
        }}
      >
        <label class="length" for="verdict-day">
          <span>On a day, if you like</span>
          <input
            id="verdict-day"
            type="date"
            value={verdictDay.value ?? ''}
            onChange={(event) => {
              verdictDay.value = event.currentTarget.value || null;
            }}
          />
        </label>
        <Arrive id="verdict-arrive" />
        <button type="submit" class="quiet" disabled={!standsReady.value || !seatAt.value}>
          Judge this stand
        </button>
      </form>
      <section class="answer" aria-label="Verdict" aria-live="polite">
        <Asking of={verdict} what="Walking the travel through every wind" />
        {answer ? (
          <Judged answer={answer} />
        ) : (
          verdict.progress.value === null && (
            <p class="empty">
              Every wind at every part of the day is tried on all travel expected here. The first stand takes
              longer, since the air of the season is made for it.
            </p>
          )
        )}
      </section>
      <HuntRules />
    </>
  );
}

function Judged({ answer }: { answer: VerdictAnswer }) {
  const { verdict: found, usable, lost, cases, inView, onDate, notes } = answer;
  const { hours, stand } = found;
  const { rested } = usable;
  return (
    <>
      <h3 class="finding-title">
        {stand.name}
        {stand.proposed ? ' (proposed)' : ''}
      </h3>
      {lost.map((line) => (
        <p key={line} class="para unfirm">
          {line}
        </p>
      ))}
      {/* What is lost is told in full below. */}
      {found.sentences
        .filter((line) => !line.startsWith('Lost '))
        .map((line) => (
          <p key={line} class="para">
            {line}
          </p>
        ))}
      {onDate && <OnDay on={onDate} />}
      <dl class="measures">
        <div>
          <dt>Hours a week its wind allows</dt>
          <dd>
            {hours === null
              ? 'not known without a wind record'
              : `${hoursWords(hours.usual)} (${hoursWords(hours.low)} to ${hoursWords(hours.high)})`}
          </dd>
        </div>
        <div>
          <dt>With a clean way in and out</dt>
          <dd>
            {usable.hours === null ? 'not known without a wind record' : hoursWords(usable.hours.usual)}
          </dd>
        </div>
        <div>
          <dt>Left when it is rested</dt>
          <dd>{rested === null ? 'not known without a wind record' : hoursWords(rested)}</dd>
        </div>
        <div>
          <dt>Deer stay in range and view</dt>
          <dd>{inView === null ? 'none comes in view' : `${spell(inView)} on average`}</dd>
        </div>
      </dl>
      <Parts parts={found.parts} />
      {found.spoils.length > 0 && (
        <Section title="What spoils the other hours">
          <ul class="lines plain">
            {found.spoils.map(({ cause, hours: lost }) => (
              <li key={cause}>
                {hours === null ? '' : `${hoursWords(lost)} a week: `}
                {cause}
              </li>
            ))}
          </ul>
        </Section>
      )}
      <WindGrid
        caption="Travel that comes in reach and view before it meets the scent"
        parts={found.parts.filter(({ lawful }) => lawful > 0).map(({ part }) => part as string)}
        chosen={chosenCase}
        mark={(part, wind) => markOf(caseOf(cases, part, wind))}
        told={(part, wind) => <Told of={caseOf(cases, part, wind)!} />}
        legend={`${Object.values(HUNT_SIGNS)
          .map(({ sign, says }) => `${sign} ${says}`)
          .join(', ')}. The figure is the clean share. A cell opens its reasons.`}
      />
      <Lines title="What it rests on" lines={notes} kind="plain" />
    </>
  );
}

const caseOf = (cases: readonly CaseRow[], part: string, wind: string): CaseRow | undefined =>
  cases.find((each) => each.part === part && each.wind === wind);

function markOf(each: CaseRow | undefined): WindMark | null {
  if (!each) return null;
  const { sign, says } = HUNT_SIGNS[each.hunt];
  const figure = each.clean ? formatShare(each.clean.usual) : '?';
  const share = each.clean ? `${figure} clean` : 'no travel expected';
  return { sign, says: `${says}, ${share}`, figure, good: each.hunt === 'yes' };
}

function Parts({ parts }: { parts: VerdictAnswer['verdict']['parts'] }) {
  return (
    <div class="table-scroll">
      <table>
        <caption>By part of the day</caption>
        <thead>
          <tr>
            <th scope="col">Part</th>
            <th scope="col" class="right">
              Lawful a week
            </th>
            <th scope="col" class="right">
              Its wind allows
            </th>
            <th scope="col" class="right">
              Clean then
            </th>
            <th scope="col" class="right">
              Ever in reach
            </th>
          </tr>
        </thead>
        <tbody>
          {parts.map(({ part, lawful, hours, clean, reach }) => (
            <tr key={part}>
              <th scope="row">{part}</th>
              <td class="right">{hoursWords(lawful)}</td>
              <td class="right">{hours === null ? 'not known' : hoursWords(hours.usual)}</td>
              <td class="right">{shareOrUnknown(clean, 'no wind for it')}</td>
              <td class="right">{shareOrUnknown(reach, 'no travel expected')}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** One wind at one part of the day: the three shares that make up the whole, and why. */
function Told({ of }: { of: CaseRow }) {
  const { clean, spoiled, never, alarmed, share, directions, bedding } = of;
  return (
    <>
      <p class="finding-title">
        {windWords(bearingOf(of.wind), of.wind === 'calm' ? 0 : of.speed, units.value)}, {of.part}:{' '}
        {HUNT_SIGNS[of.hunt].says}
      </p>
      <p class="para">{of.why}</p>
      {clean === null || spoiled === null || never === null ? (
        <p class="facts">No travel is expected at this part of the day, so no share can be told.</p>
      ) : (
        <>
          <Whole clean={clean.usual} spoiled={spoiled} never={never} />
          <dl class="measures">
            <div>
              <dt>Clean, with its band</dt>
              <dd>{bandWords(clean)}</dd>
            </div>
            <div>
              <dt>Meets the scent first</dt>
              <dd>{formatShare(spoiled)}</dd>
            </div>
            <div>
              <dt>Never in reach and view</dt>
              <dd>{formatShare(never)}</dd>
            </div>
            <div>
              <dt>Meets the scent anywhere</dt>
              <dd>{shareOrUnknown(alarmed)}</dd>
            </div>
          </dl>
        </>
      )}
      {directions.map(({ between: [a, b], share: all, there, back }) => (
        <p key={`${a} ${b}`} class="facts">
          Between {a} and {b} ({formatShare(all)} of travel) the direction is not known: {formatShare(there)}{' '}
          of it comes clean if deer walk from {a} to {b}, {formatShare(back)} the other way.
        </p>
      ))}
      {of.ways.length > 0 && <p class="facts">{waysWords(of.ways)}</p>}
      {bedding.length > 0 && <p class="facts">Scent reaches {bedding.join(', ')}.</p>}
      <p class="facts">
        {STATE_WORDS[of.state]}.{' '}
        {share === null
          ? 'How often it blows is not known without a wind record.'
          : `It blows in ${formatShare(share)} of these hours.`}
      </p>
    </>
  );
}

/** All travel of a case as one bar; patterns differ besides the colours, and the figures stand below. */
function Whole({ clean, spoiled, never }: { clean: number; spoiled: number; never: number }) {
  const parts = [
    { name: 'clean', share: clean },
    { name: 'spoiled', share: spoiled },
    { name: 'never', share: never },
  ];
  return (
    <div
      class="whole-bar"
      role="img"
      aria-label={`All travel: ${formatShare(clean)} clean, ${formatShare(spoiled)} spoiled, ${formatShare(never)} never in reach`}
    >
      {parts.map(({ name, share }) => (
        <span key={name} class={name} style={{ flexGrow: share }} />
      ))}
    </div>
  );
}

function OnDay({ on }: { on: NonNullable<VerdictAnswer['onDate']> }) {
  const facts = [
    on.closed ? `${on.closed}: it may not be entered.` : null,
    on.wait > 0
      ? `It rests ${on.wait} more ${on.wait === 1 ? 'day' : 'days'}.`
      : on.since === null
        ? 'No sit in it is logged.'
        : `Last sat ${on.since} days before; it is rested.`,
    on.left < 0.98
      ? `Visits near by leave ${formatShare(on.left)} of its travel: ${on.reasons.join('; ')}.`
      : null,
    on.phase ? `Phase of the rut: ${on.phase}.` : null,
    `Moon: ${on.moon.name}, ${formatShare(on.moon.lit)} lit. Nothing here rests on it.`,
  ].filter((fact): fact is string => fact !== null);
  return (
    <Section title="On that day">
      <ul class="lines plain">
        {facts.map((fact) => (
          <li key={fact}>{fact}</li>
        ))}
      </ul>
    </Section>
  );
}
