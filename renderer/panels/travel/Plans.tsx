import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { formatShare } from '../../../core/features/units.ts';
import type { Answer } from '../../../electron/service/contract.ts';
import {
  COMPARE_SHOWS,
  changeVariants,
  comparePlans,
  compareShows,
  comparison,
  variants,
} from '../../state/plans.ts';
import { summary } from '../../state/session.ts';
import { planKey } from '../../state/travel-asks.ts';
import { flyTo } from '../../state/view.ts';
import { Asking } from '../Asking.tsx';
import { Lines, Section } from '../Finding.tsx';
import { OverlayLegend } from '../LegendRows.tsx';
import { NamedOptions } from '../options.tsx';
import { Waiting } from '../waiting.tsx';
import { AskedAnswers } from './Asks.tsx';

type Variant = Answer<'plan.variants'>['variants'][number];

const proposes = ({ proposed }: Variant): string =>
  proposed.length === 0
    ? 'proposes nothing yet'
    : `proposes ${proposed.map(({ kind, count }) => `${count} ${kind}${count === 1 ? '' : 's'}`).join(', ')}`;

/** Plans kept side by side: make, name, choose, take away, and compare two of them. */
export function Plans() {
  const key = `${planKey.value} ${JSON.stringify(summary.value!.settings.plans ?? null)}`;
  useEffect(() => void variants.put({}), [key]);
  const answer = variants.answer.value;
  if (!answer) return <Waiting what="The plans" />;
  return (
    <>
      <p class="facts">
        What is proposed belongs to one plan. The chosen one is drawn, compared with today and written out.
      </p>
      <ul class="plans">
        {answer.variants.map((variant) => (
          <Plan
            key={variant.id}
            variant={variant}
            chosen={answer.chosen === variant.id}
            last={answer.variants.length === 1}
          />
        ))}
      </ul>
      <NewPlan all={answer.variants} chosen={answer.chosen} />
      {answer.variants.length > 1 && <Compare all={answer.variants} />}
    </>
  );
}

function Plan({ variant, chosen, last }: { variant: Variant; chosen: boolean; last: boolean }) {
  const { id, name } = variant;
  return (
    <li class="plan">
      <label class="plan-choice">
        <input
          type="radio"
          name="plan"
          checked={chosen}
          onChange={() => changeVariants('plan.chooseVariant', { id }, `${name} is the plan now.`)}
        />
        <span>
          <strong>{name}</strong> <span class="spread-words">{proposes(variant)}</span>
        </span>
      </label>
      <details>
        <summary>
          Rename or take away<span class="unseen"> {name}</span>
        </summary>
        <form
          class="ask-form"
          onSubmit={(event) => {
            event.preventDefault();
            const typed = String(new FormData(event.currentTarget).get('name') ?? '').trim();
            if (typed !== '' && typed !== name)
              void changeVariants('plan.renameVariant', { id, name: typed }, `Now called ${typed}.`);
          }}
        >
          <label class="length" for={`plan-name-${id}`}>
            <span>Name</span>
            <input
              id={`plan-name-${id}`}
              name="name"
              defaultValue={name}
              maxLength={100}
              autocomplete="off"
            />
          </label>
          <button type="submit" class="quiet small">
            Rename
          </button>
          <button
            type="button"
            class="quiet small danger"
            disabled={last}
            onClick={() =>
              changeVariants('plan.removeVariant', { id }, `${name} is taken away. Undo brings it back.`)
            }
          >
            Take away
          </button>
        </form>
      </details>
    </li>
  );
}

function NewPlan({ all, chosen }: { all: Variant[]; chosen: string }) {
  const free = (start: string): string => {
    for (let n = all.length + 1; ; n++)
      if (!all.some(({ name }) => name === `${start} ${n}`)) return `${start} ${n}`;
  };
  const make = (copyOf: string | null) =>
    changeVariants('plan.createVariant', { name: free('Plan'), copyOf }, 'A new plan, chosen now.');
  const name = all.find(({ id }) => id === chosen)?.name;
  return (
    <div class="steps">
      <button type="button" class="quiet" onClick={() => make(chosen)}>
        Copy {name}
      </button>
      <button type="button" class="quiet" onClick={() => make(null)}>
        New, empty plan
      </button>
    </div>
  );
}

const picked = signal<{ first: string; second: string } | null>(null);

function Compare({ all }: { all: Variant[] }) {
  const ids = all.map(({ id }) => id);
  const now =
    picked.value && ids.includes(picked.value.first) && ids.includes(picked.value.second)
      ? picked.value
      : { first: ids[0]!, second: ids[1]! };
  const answer = comparison.answer.value;
  return (
    <Section title="Two plans side by side">
      <form
        class="ask-form"
        onSubmit={(event) => {
          event.preventDefault();
          comparePlans(now.first, now.second);
        }}
      >
        {(['first', 'second'] as const).map((which) => (
          <label key={which} class="length" for={`compare-${which}`}>
            <span>{which === 'first' ? 'Left' : 'Right'}</span>
            <select
              id={`compare-${which}`}
              value={now[which]}
              onChange={(event) => {
                picked.value = { ...now, [which]: event.currentTarget.value };
              }}
            >
              <NamedOptions of={all} />
            </select>
          </label>
        ))}
        <button type="submit" class="strong" disabled={now.first === now.second}>
          Compare the plans
        </button>
      </form>
      <section class="answer" aria-label="Two plans side by side" aria-live="polite">
        <Asking of={comparison} what="Solving travel under both plans" />
        {answer && <Compared answer={answer} />}
      </section>
    </Section>
  );
}

const shift = (from: number, to: number): string =>
  `${to > from + 0.005 ? '▲ ' : to < from - 0.005 ? '▼ ' : ''}${formatShare(to)}`;

function Compared({ answer }: { answer: Answer<'travel.compare'> }) {
  const { first, second, necks, junctions } = answer;
  const shows = compareShows.value;
  return (
    <>
      <label class="length" for="compare-shows">
        <span>On the map</span>
        <select
          id="compare-shows"
          value={shows}
          onChange={(event) => {
            compareShows.value = event.currentTarget.value as typeof shows;
          }}
        >
          {Object.entries(COMPARE_SHOWS).map(([key, title]) => (
            <option key={key} value={key}>
              {title}
            </option>
          ))}
        </select>
      </label>
      <OverlayLegend of={shows === 'difference' ? answer.difference : first.overlays[shows]} />
      {answer.sentences.map((line) => (
        <p key={line} class="para">
          {line}
        </p>
      ))}
      <div class="table-scroll">
        <table>
          <caption>What changes, in shares of all travel; arrows against today</caption>
          <thead>
            <tr>
              <th scope="col">Where</th>
              <th scope="col" class="right">
                Today
              </th>
              <th scope="col" class="right">
                {first.name}
              </th>
              <th scope="col" class="right">
                {second.name}
              </th>
            </tr>
          </thead>
          <tbody>
            {necks.map((neck) => (
              <tr key={neck.id}>
                <th scope="row">Neck {neck.rank}</th>
                <td class="right">{formatShare(neck.today)}</td>
                <td class="right">{shift(neck.today, neck.first)}</td>
                <td class="right">{shift(neck.today, neck.second)}</td>
              </tr>
            ))}
            {junctions.map((junction, n) => (
              <tr key={junction.id ?? `new ${junction.at.join()}`}>
                <th scope="row">
                  <button
                    type="button"
                    class="quiet small"
                    onClick={() =>
                      junction.id ? flyTo({ type: 'junction', id: junction.id }, [junction.at]) : undefined
                    }
                    disabled={junction.id === null}
                  >
                    {junction.id ? `Junction ${n + 1}` : 'New junction'}
                  </button>
                </th>
                <td class="right">{formatShare(junction.today)}</td>
                <td class="right">{shift(junction.today, junction.first)}</td>
                <td class="right">{shift(junction.today, junction.second)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {[first, second].map((plan) => (
        <Section key={plan.id} title={plan.name}>
          <AskedAnswers of={plan} />
          {plan.barricades.length === 0 && <p class="empty">It has no barricade.</p>}
          {plan.barricades.map((check) => (
            <p key={check.feature} class={check.holds ? 'para' : 'para unfirm'}>
              <strong>
                {check.name}: {check.holds ? 'it holds.' : 'it does not hold.'}
              </strong>{' '}
              {formatShare(check.before)} of all travel met its line before, {formatShare(check.after)} gets
              across it after.
            </p>
          ))}
          <Lines title="What this cannot know" lines={plan.doubts} kind="doubts" />
        </Section>
      ))}
      <button type="button" class="quiet" onClick={comparison.forget}>
        Take off the map
      </button>
    </>
  );
}
