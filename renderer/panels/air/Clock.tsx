import { formatSpeed } from '../../../core/features/units.ts';
import { airAt } from '../../map/air-arrows.ts';
import { hourAir } from '../../state/air-asks.ts';
import { airReady, day } from '../../state/air-clock.ts';
import { pointer } from '../../state/pointer.ts';
import { units } from '../../state/session.ts';
import { driverWords, STATE_WORDS, sectorOf } from '../../words/air.ts';
import { Asking } from '../Asking.tsx';
import { DayField } from '../DayField.tsx';
import { Lines, Section } from '../Finding.tsx';
import { OverlayLegend } from '../LegendRows.tsx';
import { Waiting } from '../waiting.tsx';
import { AirKey } from './AirKey.tsx';
import { DayStrip } from './DayStrip.tsx';
import { Scent } from './Scent.tsx';
import { SkyField } from './SkyField.tsx';
import { WayScent } from './WayScent.tsx';
import { WindPicker } from './WindPicker.tsx';

/** A day, an hour and a wind: what the air near the ground does then, and where scent goes. */
export function Clock() {
  if (!airReady.value) return <Waiting what="The air hour by hour" />;
  const answer = hourAir.answer.value;
  return (
    <>
      <DayField id="clock-day" day={day} />
      <DayStrip />
      <WindPicker />
      <div class="ask-form">
        <SkyField />
      </div>
      <section class="answer" aria-label="Air at this hour" aria-busy={hourAir.waiting.value}>
        <Asking of={hourAir} what="Working out the air" />
        {answer && (
          <>
            <p class="para" aria-live="polite">
              {answer.sentence} {driverWords(answer, hourAir.asked.value?.windSpeed ?? 0)}
            </p>
            <dl class="measures">
              <div>
                <dt>Stability</dt>
                <dd>{STATE_WORDS[answer.state]}</dd>
              </div>
              <div>
                <dt>Sun</dt>
                <dd>{sunWords(answer.sun)}</dd>
              </div>
              <Here />
            </dl>
            <AirKey />
            {answer.overlay && <OverlayLegend of={answer.overlay} />}
          </>
        )}
      </section>
      <Section title="Scent of a seat">
        <Scent />
      </Section>
      <Section title="Scent of a way walked">
        <WayScent />
      </Section>
      {answer && <Lines title="What it rests on" lines={answer.notes} kind="plain" />}
    </>
  );
}

const sunWords = (altitude: number): string =>
  altitude < 0 ? `down, ${Math.round(-altitude)}° below the horizon` : `${Math.round(altitude)}° up`;

/** The air under the pointer or the keyboard's cross. */
function Here() {
  const at = pointer.value;
  const answer = hourAir.answer.value;
  const air = at && answer ? airAt(answer.arrows, at) : null;
  return (
    <div>
      <dt>Under the pointer</dt>
      <dd>
        {air === null
          ? 'rest it on the map'
          : air.towards === null
            ? 'still or eddying: way not known'
            : `towards ${sectorOf(air.towards)} at ${formatSpeed(air.speed, units.value)}${air.held >= 0.5 ? ', cold air' : ''}`}
      </dd>
    </div>
  );
}
