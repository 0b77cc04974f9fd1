import { signal } from '@preact/signals';
import { SECTORS } from '../../../core/air/types.ts';
import { formatLength, formatShare } from '../../../core/features/units.ts';
import type { Answer } from '../../../electron/service/contract.ts';
import { airLeaf, standSeason } from '../../state/air-asks.ts';
import { hour, source, wind } from '../../state/air-clock.ts';
import { rowsOf } from '../../state/rows.ts';
import { units } from '../../state/session.ts';
import { sunHours } from '../../state/sky.ts';
import { table } from '../../state/tables.ts';
import { CALM, hourOfPart, STATE_WORDS, windWords } from '../../words/air.ts';
import { Asking } from '../Asking.tsx';
import { Lines, Section } from '../Finding.tsx';
import { NamedOptions } from '../options.tsx';
import { type WindCell, WindGrid, type WindMark } from '../WindGrid.tsx';
import { Waiting } from '../waiting.tsx';
import { CRUISING_WEEKS, SeasonPicker, seasonOf } from './SeasonPicker.tsx';

type Season = Answer<'air.stand'>;
type Case = Season['cases'][number];

const chosenStand = signal<string | null>(null);
const seasonChoice = signal(CRUISING_WEEKS);
const chosenCase = signal<WindCell | null>(null);

/** One stand under every wind at every part of the day of the season: where its scent is clean and how often that wind blows. */
export function StandSeason() {
  const subjects = rowsOf('stand-risks', table('stand-risks').value).map(({ subject }) => subject);
  if (subjects.length === 0) return <Waiting what="Stands, or the best necks in place of them" />;
  const of = subjects.find(({ id }) => id === chosenStand.value) ?? subjects[0]!;
  const answer = standSeason.asked.value?.stand === of.id ? standSeason.answer.value : null;
  return (
    <>
      <p class="facts">Sixteen winds and the calm at five parts of a day in the middle of the season.</p>
      <form
        class="ask-form"
        onSubmit={(event) => {
          event.preventDefault();
          const season = seasonOf(seasonChoice.value);
          void standSeason.put(season ? { stand: of.id, season } : { stand: of.id });
        }}
      >
        <label class="length" for="season-stand">
          <span>Stand</span>
          <select
            id="season-stand"
            value={of.id}
            onChange={(event) => {
              chosenStand.value = event.currentTarget.value;
              chosenCase.value = null;
            }}
          >
            <NamedOptions of={subjects} />
          </select>
        </label>
        <SeasonPicker id="stand" choice={seasonChoice} year={false} />
        <button type="submit" class="quiet">
          Try every wind
        </button>
      </form>
      <section class="answer" aria-label="The stand through the season">
        <Asking of={standSeason} what="Trying every wind" />
        {answer && <Tried answer={answer} stand={of.id} isStand={of.type === 'stand'} />}
      </section>
    </>
  );
}

function Tried({ answer, stand, isStand }: { answer: Season; stand: string; isStand: boolean }) {
  return (
    <>
      <Lines title="Risks" lines={answer.risks} kind="plain" />
      <WindTable answer={answer} stand={stand} isStand={isStand} />
      <Turns {...answer.turns} />
      <CleanHours parts={answer.parts} />
      <Deer answer={answer} />
      <Lines title="What it rests on" lines={answer.notes} kind="plain" />
    </>
  );
}

/** Told by sign and word, never by colour alone. */
const SIGNS = {
  clean: { sign: '○', says: 'clean' },
  spoils: { sign: '●', says: 'meets deer' },
  hangs: { sign: '≈', says: 'hangs' },
} as const;

const isClean = ({ parts }: Season, { part, wind: of }: Case): boolean =>
  parts.some((each) => each.part === part && each.good.includes(of));
/** So says the verdict of air that carries scent nowhere. */
const hangs = ({ verdict }: Case): boolean => verdict.includes('air hardly moves');

function WindTable({ answer, stand, isStand }: { answer: Season; stand: string; isStand: boolean }) {
  const caseOf = (part: string, of: string) =>
    answer.cases.find((each) => each.wind === of && each.part === part);
  return (
    <WindGrid
      caption="Scent by wind and part of day, with the share of those hours the wind blows"
      parts={answer.parts.map(({ part }) => part)}
      chosen={chosenCase}
      mark={(part, of) => {
        const each = caseOf(part, of);
        return each ? markOf(each, isClean(answer, each)) : null;
      }}
      told={(part, of) => <Told of={caseOf(part, of)!} stand={stand} isStand={isStand} />}
      legend={`${Object.values(SIGNS)
        .map(({ sign, says }) => `${sign} ${says}`)
        .join(', ')}. A cell opens its verdict.`}
    />
  );
}

function markOf(each: Case, clean: boolean): WindMark {
  const { sign, says } = SIGNS[hangs(each) ? 'hangs' : clean ? 'clean' : 'spoils'];
  const figure = each.share === null ? null : formatShare(each.share);
  return { sign, says: figure ? `${says}, ${figure} of hours` : says, figure, good: says === 'clean' };
}

function Told({ of, stand, isStand }: { of: Case; stand: string; isStand: boolean }) {
  const { rise, set } = sunHours.value;
  const k = [...SECTORS, 'calm'].indexOf(of.wind);
  return (
    <>
      <p class="finding-title">
        {windWords(Math.max(0, k) * 22.5, of.speed, units.value)}, {of.part}
      </p>
      <p class="para">{of.verdict}</p>
      <p class="facts">
        {STATE_WORDS[of.state]}.{' '}
        {of.share === null
          ? 'How often it blows is not known without a wind record.'
          : `It blows in ${formatShare(of.share)} of these hours (${formatShare(of.low)} to ${formatShare(of.high)}).`}
      </p>
      {isStand && !Number.isNaN(rise) && (
        <button
          type="button"
          class="quiet small"
          onClick={() => {
            hour.value = hourOfPart(of.part, rise, set);
            wind.value = of.speed < CALM ? { from: 0, speed: 0 } : { from: k * 22.5, speed: of.speed };
            source.value = { stand };
            airLeaf.value = 'clock';
          }}
        >
          Show it on the map
        </button>
      )}
    </>
  );
}

function Turns({ begins, ends, upslopeBegins, upslopeEnds, zone }: Season['turns']) {
  return (
    <Section title="When the air turns here">
      <p class="para">
        {begins === null || ends === null
          ? 'On a clear calm night cold air never slides past this spot, so it has no turn.'
          : `On a clear calm night cold air starts down at ${begins} and is last down at ${ends} ${zone}.`}
        {upslopeBegins !== null && upslopeEnds !== null
          ? ` Sun-warmed slopes draw it up from ${upslopeBegins} to ${upslopeEnds}.`
          : ''}
      </p>
    </Section>
  );
}

function CleanHours({ parts }: { parts: Season['parts'] }) {
  return (
    <div class="table-scroll">
      <table>
        <caption>Hours whose scent meets hardly any travel and no bedding</caption>
        <thead>
          <tr>
            <th scope="col">Part of day</th>
            <th scope="col">Clean</th>
            <th scope="col">Winds to sit it</th>
          </tr>
        </thead>
        <tbody>
          {parts.map(({ part, clean, good }) => (
            <tr key={part}>
              <th scope="row">{part}</th>
              <td>{clean === null ? 'not known' : formatShare(clean)}</td>
              <td>{good.length === 0 ? 'none' : good.length > 15 ? 'nearly any' : good.join(', ')}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Deer({ answer: { deer, shared } }: { answer: Season }) {
  const blown = deer.filter(({ into, across }) => into + across > 0);
  return (
    <Section title="The deer’s wind">
      {blown.length === 0 && <p class="empty">No trail is known, so the deer’s own wind cannot be told.</p>}
      {shared.length > 0 && (
        <>
          <p class="para">
            Winds that serve deer and hunter: most travel has them in its face or on its side, and it misses
            your scent.
          </p>
          <ul class="shared-winds">
            {shared.slice(0, 8).map((each) => (
              <li key={`${each.wind} ${each.part}`}>
                <strong>{each.wind}</strong>, {each.part}: {formatShare(each.deer)} of travel
                {each.hours === null ? '' : `, ${formatShare(each.hours)} of hours`}
              </li>
            ))}
          </ul>
        </>
      )}
      {blown.length > 0 && shared.length === 0 && (
        <p class="para unfirm">No wind serves both here: what the deer like carries your scent to them.</p>
      )}
      {blown.length > 0 && (
        <details class="methods">
          <summary>Every wind as the deer take it</summary>
          <div class="table-scroll">
            <table>
              <thead>
                <tr>
                  <th scope="col">Wind</th>
                  <th scope="col">In its face</th>
                  <th scope="col">From the side</th>
                  <th scope="col">Bedding checked from downwind</th>
                </tr>
              </thead>
              <tbody>
                {blown.map(({ wind: of, into, across, checks }) => (
                  <tr key={of}>
                    <th scope="row">{of}</th>
                    <td>{formatShare(into)}</td>
                    <td>{formatShare(across)}</td>
                    <td>
                      {checks.length === 0
                        ? 'none'
                        : checks
                            .map(({ area, distance }) => `${area}, ${formatLength(distance, units.value)}`)
                            .join('; ')}
                    </td>
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
