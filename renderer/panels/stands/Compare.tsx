import { formatLength, formatShare } from '../../../core/features/units.ts';
import type { ComparedStand, StandCompareAnswer } from '../../../electron/service/contract.ts';
import { units } from '../../state/session.ts';
import { standsReady } from '../../state/stands-asks.ts';
import { compared } from '../../state/stands-search.ts';
import { flyTo } from '../../state/view.ts';
import { partWords } from '../../words/stands.ts';
import { Asking } from '../Asking.tsx';
import { Lines, Section } from '../Finding.tsx';
import { bandWords, hoursOrUnknown, shareOrUnknown } from './shares.ts';

/** Every stand of the map beside the others. */
export function Compare() {
  const answer = compared.answer.value;
  return (
    <>
      <p class="facts">
        Every stand on the map side by side: hours, clean travel, reach, what closes the line of fire, and the
        way in.
      </p>
      <div class="ask-form">
        <button
          type="button"
          class="quiet"
          disabled={!standsReady.value}
          onClick={() => void compared.put({ stands: null })}
        >
          Lay the stands side by side
        </button>
      </div>
      <section class="answer" aria-label="Stands side by side" aria-live="polite">
        <Asking of={compared} what="Judging every stand" />
        {answer && <Side answer={answer} />}
      </section>
    </>
  );
}

type Row = [label: string, value: (stand: ComparedStand) => string];

function Side({ answer: { stands, sentences, notes } }: { answer: StandCompareAnswer }) {
  const u = units.value;
  const distance = (metres: number) => formatLength(metres, u);
  const rows: Row[] = [
    ['Usable hours a week', ({ usable }) => hoursOrUnknown(usable)],
    ['Hours its wind allows', ({ verdict }) => hoursOrUnknown(verdict.hours?.usual)],
    ['Left when rested', ({ verdict }) => hoursOrUnknown(verdict.rested)],
    ['Clean share when hunted', ({ clean }) => (clean ? bandWords(clean) : 'none')],
    ['Best part of the day', ({ verdict }) => (verdict.best ? partWords(verdict.best.part) : 'none')],
    ['Winds for it', ({ verdict }) => verdict.best?.winds.join(', ') ?? 'none'],
    ['Dearest loss', ({ verdict }) => verdict.spoils[0]?.cause ?? 'none'],
    ['Weapon and range', ({ weapon, range }) => `${weapon}, ${distance(range)}`],
    ['Travel in range', ({ shareInReach }) => shareOrUnknown(shareInReach)],
    ['Travel in clear view', ({ shareInView }) => shareOrUnknown(shareInView)],
    ['Time in view', ({ inView }) => (inView === null ? 'none' : `${Math.round(inView)} s`)],
    [
      'Lanes to cut',
      ({ lanes }) => (lanes.count === 0 ? 'none' : `${lanes.count}, ${distance(lanes.toCut)} of cover`),
    ],
    ['Longest clear lane', ({ lanes }) => distance(lanes.clearest)],
    [
      'Line of fire closed',
      ({ fire, closed }) =>
        fire.closed === 0
          ? '0°'
          : `${fire.closed}°: ${closed.map(({ from, to }) => `${from}–${to}°`).join(', ')}`,
    ],
    ['Nothing stops it close by', ({ fire }) => `${fire.open}°`],
    ['Ground behind, checked', ({ fire }) => `${fire.checked}°`],
    ['Way in', wayWords],
    [
      'Hunter in view of deer',
      ({ concealment }) =>
        concealment
          ? `${formatShare(concealment.seen)}, ${formatShare(concealment.skylined)} against the sky`
          : 'no travel near',
    ],
    ['Not known', ({ unknown }) => (unknown.length > 0 ? unknown.join(' ') : 'nothing of this')],
  ];
  return (
    <>
      {sentences.map((line) => (
        <p key={line} class="para">
          {line}
        </p>
      ))}
      <div class="table-scroll">
        <table class="side-by-side">
          <caption class="unseen">Stands side by side</caption>
          <thead>
            <tr>
              <th scope="col">
                <span class="unseen">What</span>
              </th>
              {stands.map(({ id, name, at, proposed }) => (
                <th key={id} scope="col">
                  <button type="button" class="quiet small" onClick={() => flyTo(null, [at], 300)}>
                    {name}
                    {proposed ? ' (proposed)' : ''}
                  </button>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(([label, value]) => (
              <tr key={label}>
                <th scope="row">{label}</th>
                {stands.map((stand) => (
                  <td key={stand.id}>{value(stand)}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <Closed stands={stands} />
      <Lines title="What it rests on" lines={notes} kind="plain" />
    </>
  );
}

function wayWords({ ways }: ComparedStand): string {
  if (ways.length === 0) return 'no hour of light';
  if (ways.every(({ clean }) => clean === null)) return 'not known';
  const clean = ways.filter((way) => way.clean);
  if (clean.length === 0) return 'never clean';
  const best = clean[0]!.walks[0]!.best;
  const when =
    clean.length === ways.length
      ? 'clean all day'
      : `clean ${clean.map(({ part }) => partWords(part)).join(', ')}`;
  return best ? `${when}, ${Math.max(1, Math.round(best.minutes))} min` : when;
}

/** Why directions are closed, stand by stand. */
function Closed({ stands }: { stands: readonly ComparedStand[] }) {
  const shut = stands.filter(({ closed }) => closed.length > 0);
  if (shut.length === 0) return null;
  return (
    <Section title="What closes the line of fire">
      <p class="caution-line">
        Checked, never safe: the person behind the gun looks at what is there, every time.
      </p>
      <ul class="lines plain">
        {shut.flatMap(({ id, name, closed }) =>
          closed.map(({ from, to, why }) => (
            <li key={`${id}-${from}`}>
              {name}, {from}° to {to}°: {why}
            </li>
          )),
        )}
      </ul>
    </Section>
  );
}
