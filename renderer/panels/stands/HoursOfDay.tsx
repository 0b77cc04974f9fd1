import { capital, formatShare } from '../../../core/features/units.ts';
import type { Chance, HoursAnswer, HoursDay } from '../../../electron/service/contract.ts';
import { chanceWords, hoursWords, longDay, type Span, spansOf } from '../../words/hours.ts';

/** A day that was opened: what keeps hunters out, and each stretch of it with its winds. */
export function HoursOfDay({ day, answer }: { day: HoursDay; answer: HoursAnswer }) {
  const { date, light, phase, barred, disturbed, sits, hours, lawful, cells } = day;
  const facts = [
    light
      ? `Light from ${light.from} to ${light.to} ${answer.zone}, ${hoursWords(lawful)}.`
      : 'No lawful light.',
    phase ? `Phase of the rut: ${phase}.` : null,
    ...sits.map((name) => `Written down: a sit in ${name}.`),
    ...barred.map(({ why }) => why),
    ...disturbed,
  ].filter((fact) => fact !== null);
  return (
    <div class="told hours-told" role="status">
      <p class="finding-title">{longDay(date)}</p>
      <ul class="lines plain">
        {facts.map((fact) => (
          <li key={fact}>{fact}</li>
        ))}
      </ul>
      <ol class="hours-spans">
        {spansOf(cells).map((span) => (
          <Stretch key={span.from} span={span} chance={answer.chances[span.of]!} names={answer.names} />
        ))}
      </ol>
      {cells.some(({ state }) => state === 'unjudged') && (
        <p class="facts">Light later than an hour after sunset is not judged.</p>
      )}
      {hours && hours.usual > 0 && (
        <p class="facts">
          {hoursWords(hours.usual)} of it can be hunted on average ({hoursWords(hours.low)} to{' '}
          {hoursWords(hours.high)}
          ).
        </p>
      )}
    </div>
  );
}

function Stretch({ span, chance, names }: { span: Span; chance: Chance; names: HoursAnswer['names'] }) {
  const { part, stands, against } = chance;
  const alone = Object.keys(names).length === 1;
  return (
    <li>
      <p class="finding-title">
        {capital(part)}, {span.from} to {span.to}
      </p>
      <p class="finding-text">
        {chanceWords(chance)}
        {against && ` Against the commonest, ${windWord(against.wind)}, at ${against.stand}: ${against.why}`}
      </p>
      {stands.length > 0 && (
        <ul class="lines plain">
          {stands.map(({ id, share: own, winds }) => (
            <li key={id}>
              {alone ? 'Good' : names[id]}
              {own === null || alone ? '' : ` ${formatShare(own)}`}: {winds.map(windWord).join(', ')}
            </li>
          ))}
        </ul>
      )}
    </li>
  );
}

const windWord = (wind: string): string => (wind === 'calm' ? 'calm air' : wind);
