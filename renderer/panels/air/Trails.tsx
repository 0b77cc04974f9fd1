import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { formatLength, formatShare } from '../../../core/features/units.ts';
import type { TrailsAnswer } from '../../../electron/service/contract.ts';
import { airLeaf, standSeason, trails, windKey } from '../../state/air-asks.ts';
import { units } from '../../state/session.ts';
import {
  groupUnder,
  pickTrailWind,
  proposalName,
  shownGroup,
  type TrailGroup,
  trailGroups,
  trailsReady,
  trailWindNow,
} from '../../state/trail-asks.ts';
import { flyTo } from '../../state/view.ts';
import { list } from '../../words/sentences.ts';
import { Asking } from '../Asking.tsx';
import { Finding, Lines, Section } from '../Finding.tsx';
import { Waiting } from '../waiting.tsx';
import { CRUISING_WEEKS, SeasonPicker, seasonOf } from './SeasonPicker.tsx';

const season = signal(CRUISING_WEEKS);

const ask = () => {
  const of = seasonOf(season.value);
  void trails.put(of === undefined ? {} : { season: of });
};

/** The deer's own wind: how each trail lies to each wind, which bedding it checks, and where new bedding would be checked. */
export function Trails() {
  useEffect(() => {
    if (trailsReady.value && !trails.asked.peek() && trails.progress.peek() === null) ask();
  }, [trailsReady.value, windKey.value, trails.asked.value === null]);
  if (!trailsReady.value) return <Waiting what="Trails, as travel draws them" />;
  const answer = trails.answer.value;
  return (
    <>
      <form
        class="ask-form"
        onSubmit={(event) => {
          event.preventDefault();
          ask();
        }}
      >
        <SeasonPicker id="trails" choice={season} year changed={ask} />
        {season.value.kind === 'own' && (
          <button type="submit" class="quiet">
            Look at these days
          </button>
        )}
      </form>
      <section class="answer" aria-label="The deer’s wind">
        <Asking of={trails} what="Holding the trails to the wind" />
        {answer && <Held answer={answer} />}
      </section>
    </>
  );
}

function Held({ answer }: { answer: TrailsAnswer }) {
  return (
    <>
      <Winds winds={answer.winds} />
      <UnderWind answer={answer} />
      <Shared />
      <NewBedding answer={answer} />
      <Lines title="What this cannot know" lines={answer.doubts} kind="doubts" />
      <Lines title="What it rests on" lines={answer.notes} kind="plain" />
    </>
  );
}

/** Every wind over all travel; one is chosen for the map. */
function Winds({ winds }: { winds: TrailsAnswer['winds'] }) {
  const now = trailWindNow.value;
  return (
    <div class="table-scroll">
      <table class="trail-winds">
        <caption>All travel under each wind; press one to see its trails</caption>
        <thead>
          <tr>
            <th scope="col">From</th>
            <th scope="col" class="right">
              Hours
            </th>
            <th scope="col" class="right">
              Into it
            </th>
            <th scope="col" class="right">
              Across
            </th>
            <th scope="col">Bedding checked</th>
          </tr>
        </thead>
        <tbody>
          {winds.map(({ wind, hours, into, across, checks }) => (
            <tr key={wind} class={wind === now ? 'chosen' : ''}>
              <th scope="row">
                <button
                  type="button"
                  class="quiet small"
                  aria-pressed={wind === now}
                  onClick={() => pickTrailWind(wind)}
                >
                  {wind}
                </button>
              </th>
              <td class="right">{hours === null ? '?' : formatShare(hours)}</td>
              <td class="right">{formatShare(into)}</td>
              <td class="right">{formatShare(across)}</td>
              <td>
                {checks.length === 0
                  ? 'none'
                  : `${checks[0]!.area}, ${formatLength(checks[0]!.distance, units.value)}${checks.length > 1 ? `, and ${checks.length - 1} more` : ''}`}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

const LEGS = [
  { look: 'into', says: 'wind in the face' },
  { look: 'across', says: 'wind from the side' },
  { look: 'behind', says: 'wind from behind' },
];

/** Each trail under the wind chosen, the ones with most travel first. */
function UnderWind({ answer }: { answer: TrailsAnswer }) {
  const wind = trailWindNow.value;
  const groups = trailGroups.value;
  const shown = groups.find(({ id }) => id === shownGroup.value);
  return (
    <Section title={`Trails with wind from ${wind}`} count={answer.trails.length}>
      <ul class="legend trail-legend">
        {LEGS.map(({ look, says }) => (
          <li key={look}>
            <svg class={`trail-sign ${look}`} viewBox="0 0 30 8" aria-hidden="true">
              <path d="M1 4H29" />
            </svg>
            {says}
          </li>
        ))}
      </ul>
      <p class="facts">
        {shown
          ? `The map shows all ${shown.trails.length} from ${shown.id}. `
          : 'The map shows the strongest trail of each line below. '}
        {shown && (
          <button
            type="button"
            class="quiet small"
            onClick={() => {
              shownGroup.value = null;
            }}
          >
            Show one of each
          </button>
        )}
      </p>
      <ol class="findings">
        {groups.map((group, n) => (
          <Finding
            key={group.id}
            id={`trails ${group.id}`}
            flag={n + 1}
            title={`${group.from} to ${group.to}`}
            onPick={() => {
              shownGroup.value = group.id;
              flyTo(
                null,
                group.trails.flatMap(({ path }) => path),
                300,
              );
            }}
          >
            {groupWords(group, wind)}
          </Finding>
        ))}
      </ol>
    </Section>
  );
}

function groupWords(group: TrailGroup, wind: string): string {
  const { into, across, with: behind, checks } = groupUnder(group, wind);
  const count = group.trails.length;
  const beds =
    checks.length === 0
      ? 'Runs downwind of no bedding near enough to check.'
      : `Runs downwind of ${list(checks.map(({ area, distance }) => `${area} (from ${formatLength(distance, units.value)})`))}.`;
  return `${count === 1 ? '1 trail' : `${count} trails`}, ${formatShare(group.share)} of travel: ${formatShare(into)} into it, ${formatShare(across)} across, ${formatShare(behind)} with it behind. ${beds}`;
}

/** Winds that serve deer and hunter alike, of the stand that was tried last. */
function Shared() {
  const tried = standSeason.answer.value;
  const shared = tried?.shared ?? [];
  return (
    <Section title="Winds that serve both">
      {!tried && (
        <p class="para">
          Try a stand under every wind, and the winds its trails like and its scent misses are named here.
        </p>
      )}
      {tried && (
        <p class={shared.length === 0 ? 'para unfirm' : 'para'}>
          {shared.length === 0
            ? `${tried.name}: no wind serves both. What the deer like carries scent to them.`
            : `${tried.name}: most travel has these in its face or on its side, and they carry scent past it.`}
        </p>
      )}
      {shared.length > 0 && (
        <ul class="shared-winds">
          {shared.slice(0, 8).map((each) => (
            <li key={`${each.wind} ${each.part}`}>
              <button
                type="button"
                class="quiet small"
                aria-pressed={each.wind === trailWindNow.value}
                onClick={() => pickTrailWind(each.wind)}
              >
                {each.wind}
              </button>{' '}
              {each.part}: {formatShare(each.deer)} of travel
              {each.hours === null ? '' : `, ${formatShare(each.hours)} of hours`}
            </li>
          ))}
        </ul>
      )}
      <button
        type="button"
        class="quiet small"
        onClick={() => {
          airLeaf.value = 'season';
        }}
      >
        {tried ? 'Try another stand' : 'Try a stand'}
      </button>
    </Section>
  );
}

function NewBedding({ answer: { bedding } }: { answer: TrailsAnswer }) {
  return (
    <Section title="New bedding a trail would check" count={bedding.length}>
      {bedding.length === 0 && (
        <p class="empty">
          No cover on your ground lies upwind of a trail, near enough and out of its way, or there is no wind
          record.
        </p>
      )}
      <ol class="findings">
        {bedding.map((each, n) => (
          <Finding
            key={each.at.join()}
            id={`new-bedding-${n}`}
            flag={proposalName(n)}
            flagClass="leaf"
            title={`Upwind of its trail in ${formatShare(each.checked)} of daylight hours`}
            onPick={() => flyTo(null, [each.at], 400)}
          >
            {each.sentence}
          </Finding>
        ))}
      </ol>
    </Section>
  );
}
