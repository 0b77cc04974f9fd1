import { capital, formatShare, MPH } from '../../../core/features/units.ts';
import type { ForecastAnswer } from '../../../electron/service/contract.ts';
import { units } from '../../state/session.ts';
import { standsReady } from '../../state/stands-asks.ts';
import { askForecast, forecast, forecastDay, forecastWind, hunters } from '../../state/stands-when.ts';
import { windOrCalm } from '../../words/stands.ts';
import { Asking } from '../Asking.tsx';
import { DayField } from '../DayField.tsx';
import { Lines, Section } from '../Finding.tsx';
import { NumberField } from '../NumberField.tsx';
import { SectorOptions } from '../options.tsx';
import { HuntRules } from './HuntRules.tsx';
import { Arrive, ShowWay, waysWords } from './ways.tsx';

const STRONGEST = 40;
const MOST = 8;

/** Where to sit on a day with the wind its forecast tells, for so many hunters. */
export function DayAhead() {
  const answer = forecast.answer.value;
  const { from, speed } = forecastWind.value;
  const unit = units.value === 'us' ? MPH : 1;
  return (
    <>
      <form
        class="ask-form"
        onSubmit={(event) => {
          event.preventDefault();
          askForecast();
        }}
      >
        <DayField id="forecast-day" day={forecastDay} />
        <label class="length" for="forecast-sector">
          <span>Wind from</span>
          <select
            id="forecast-sector"
            value={from % 22.5 === 0 ? String(from % 360) : 'typed'}
            onChange={(event) => {
              const chosen = event.currentTarget.value;
              if (chosen !== 'typed') forecastWind.value = { speed, from: Number(chosen) };
            }}
          >
            {from % 22.5 !== 0 && <option value="typed">as typed</option>}
            <SectorOptions />
          </select>
        </label>
        <NumberField
          id="forecast-from"
          label="Degrees"
          value={from}
          most={360}
          put={(typed) => {
            forecastWind.value = { speed, from: typed };
          }}
        />
        <NumberField
          id="forecast-speed"
          label={`Speed, ${units.value === 'us' ? 'mph' : 'm/s'}`}
          value={Number((speed / unit).toFixed(1))}
          most={STRONGEST / unit}
          put={(typed) => {
            forecastWind.value = { from, speed: typed * unit };
          }}
        />
        <NumberField
          id="forecast-hunters"
          label="Hunters"
          value={hunters.value}
          least={1}
          most={MOST}
          whole
          put={(typed) => {
            hunters.value = typed;
          }}
        />
        <Arrive id="forecast-arrive" />
        <button type="submit" class="quiet" disabled={!standsReady.value}>
          Where to sit
        </button>
      </form>
      <section class="answer" aria-label="A day with a typed-in wind" aria-live="polite">
        <Asking of={forecast} what="Trying that wind on every stand" />
        {answer && <Told answer={answer} />}
      </section>
      <HuntRules />
    </>
  );
}

function Told({ answer }: { answer: ForecastAnswer }) {
  const { wind, parts, phase, moon, zone, notes } = answer;
  return (
    <>
      <p class="facts">
        {windOrCalm(wind)}. {phase ? `Phase of the rut: ${phase}. ` : ''}
        Moon: {moon.name}, {formatShare(moon.lit)} lit; nothing here rests on it.
      </p>
      {parts.map(({ part, from, to, picks, passed, sentence }) => (
        <Section key={part} title={`${capital(part)}, ${from} to ${to} ${zone}`}>
          <p class={picks.length > 0 ? 'para' : 'para unfirm'}>{sentence}</p>
          {picks.length > 0 && (
            <ol class="choices">
              {picks.map(({ stand, name, why, seated, ways }) => (
                <li key={stand}>
                  {name}: {why} Seated by {seated}. {waysWords(ways)} <ShowWay ways={ways} name={name} />
                </li>
              ))}
            </ol>
          )}
          {passed.length > 0 && (
            <details class="methods">
              <summary>Passed over: {passed.length}</summary>
              <ul class="lines plain">
                {passed.map(({ stand, name, why }) => (
                  <li key={stand}>
                    {name}: {why}
                  </li>
                ))}
              </ul>
            </details>
          )}
        </Section>
      ))}
      <Lines title="What it rests on" lines={notes} kind="plain" />
    </>
  );
}
