import { useEffect } from 'preact/hooks';
import { formatLength, formatShare } from '../../../core/features/units.ts';
import { WEAPONS, type Weapon } from '../../../core/stands/types.ts';
import type { SiteRow, StandSearchAnswer } from '../../../electron/service/contract.ts';
import { variants } from '../../state/plans.ts';
import { units } from '../../state/session.ts';
import { standsReady } from '../../state/stands-asks.ts';
import { askSites, search, searchForm, searchIsOld, usedSites, useSite } from '../../state/stands-search.ts';
import { flyTo } from '../../state/view.ts';
import { FAULT_WORDS, SEAT_WORDS } from '../../words/stands-search.ts';
import { Asking } from '../Asking.tsx';
import { Lines, Section } from '../Finding.tsx';
import { NamedOptions } from '../options.tsx';
import { hoursOrUnknown } from './shares.ts';

const MOST = 8;

/** Where a new stand would pay on the client's own ground, and why the places that look good do not. */
export function Search() {
  const answer = search.answer.value;
  useEffect(() => void variants.put({}), []);
  const set = (change: Partial<(typeof searchForm)['value']>) => {
    searchForm.value = { ...searchForm.value, ...change };
  };
  const { seat, weapon, count, plan } = searchForm.value;
  return (
    <>
      <p class="facts">
        Looks over the client’s own ground, necks and junctions first, and judges the best spots in full.
        Takes a minute or two.
      </p>
      <form
        class="ask-form"
        onSubmit={(event) => {
          event.preventDefault();
          askSites();
        }}
      >
        <label class="length" for="site-seat">
          <span>Seat</span>
          <select
            id="site-seat"
            value={seat}
            onChange={(event) => set({ seat: event.currentTarget.value as typeof seat })}
          >
            <option value="any">a tree, or a tower in the open</option>
            <option value="tree">a tree</option>
            <option value="tower">a tower</option>
            <option value="ground">a blind on the ground</option>
          </select>
        </label>
        <label class="length" for="site-weapon">
          <span>Weapon</span>
          <select
            id="site-weapon"
            value={weapon}
            onChange={(event) => set({ weapon: event.currentTarget.value as Weapon })}
          >
            {WEAPONS.map((each) => (
              <option key={each} value={each}>
                {each}
              </option>
            ))}
          </select>
        </label>
        <label class="length" for="site-plan">
          <span>Travel</span>
          <select
            id="site-plan"
            value={plan ?? ''}
            onChange={(event) => set({ plan: event.currentTarget.value || null })}
          >
            <option value="">as it is today</option>
            <NamedOptions
              of={(variants.answer.value?.variants ?? []).map(({ id, name }) => ({
                id,
                name: `as ${name} makes it`,
              }))}
            />
          </select>
        </label>
        <label class="length" for="site-count">
          <span>Sites at most</span>
          <input
            id="site-count"
            type="number"
            min={1}
            max={MOST}
            value={count}
            onChange={(event) => {
              const typed = Math.round(Number(event.currentTarget.value));
              set({ count: Math.min(MOST, Math.max(1, Number.isFinite(typed) ? typed : 1)) });
            }}
          />
        </label>
        <button type="submit" class="quiet" disabled={!standsReady.value}>
          Search for sites
        </button>
      </form>
      <section class="answer" aria-label="New sites" aria-live="polite">
        <Asking of={search} what="Searching for sites" />
        {answer && <Found answer={answer} />}
      </section>
    </>
  );
}

function Found({ answer }: { answer: StandSearchAnswer }) {
  const { sites, ifWay, passed, sentences, doubts, notes } = answer;
  return (
    <>
      {searchIsOld.value && (
        <p class="caution-line" role="status">
          Something was changed since this search; what it says is of before.
        </p>
      )}
      <p class="facts">Searched on {answer.plan}.</p>
      {sentences.map((line) => (
        <p key={line} class="para">
          {line}
        </p>
      ))}
      {sites.length + ifWay.length > 0 && <Table sites={[...sites, ...ifWay]} />}
      {sites.map((site) => (
        <Site key={site.id} site={site} />
      ))}
      {ifWay.length > 0 && (
        <Section title="Only with another way in" count={ifWay.length}>
          <p class="facts">Nothing stands against these but the way to them.</p>
          {ifWay.map((site) => (
            <Site key={site.id} site={site} />
          ))}
        </Section>
      )}
      {passed.length > 0 && (
        <Section title="Look good, and are not proposed" count={passed.length}>
          <ul class="passed">
            {passed.map(({ name, at, share, faults }) => (
              <li key={`${name} ${at.join()}`}>
                <button type="button" class="quiet small" onClick={() => flyTo(null, [at], 300)}>
                  {name}
                </button>{' '}
                <span class="spread-words">
                  {formatShare(share)} of all travel; {faults.map(({ key }) => FAULT_WORDS[key]).join(', ')}
                </span>
                {faults.map(({ sentence }) => (
                  <p key={sentence} class="facts">
                    {sentence}
                  </p>
                ))}
              </li>
            ))}
          </ul>
        </Section>
      )}
      <Lines title="What this cannot know" lines={doubts} kind="doubts" />
      <Lines title="What it rests on" lines={notes} kind="plain" />
    </>
  );
}

function Table({ sites }: { sites: readonly SiteRow[] }) {
  return (
    <div class="table-scroll">
      <table>
        <caption class="unseen">Sites, the best first</caption>
        <thead>
          <tr>
            <th scope="col">Site</th>
            <th scope="col">Seat</th>
            <th scope="col" class="right">
              Met clean
            </th>
            <th scope="col" class="right">
              Hours a week
            </th>
            <th scope="col" class="right">
              Ground behind
            </th>
          </tr>
        </thead>
        <tbody>
          {sites.map(({ id, name, seat, value, potential, faults, verdict, backed }) => (
            <tr key={id}>
              <th scope="row">
                {name}
                {faults.length > 0 ? ' *' : ''}
              </th>
              <td>{seat}</td>
              <td class="right">{formatShare(faults.length > 0 ? potential : value)}</td>
              <td class="right">{hoursOrUnknown(verdict.hours?.usual)}</td>
              <td class="right">{backed === null ? 'none' : formatShare(backed)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {sites.some(({ faults }) => faults.length > 0) && (
        <p class="facts">* were the way in clean, which it is not.</p>
      )}
    </div>
  );
}

function Site({ site }: { site: SiteRow }) {
  const { id, name, at, seat, seatHeight, weapon, range, reasons, faults, unknown } = site;
  const u = units.value;
  const used = usedSites.value.has(id);
  return (
    <section class="ruling" aria-label={name}>
      <h3>
        {name}: {SEAT_WORDS[seat]}
      </h3>
      <p class="facts">
        Seat {formatLength(seatHeight, u, 'height')} up, {weapon}, {formatLength(range, u)}.
      </p>
      {faults.map(({ key, sentence }) => (
        <p key={key} class="para unfirm">
          {sentence}
        </p>
      ))}
      <ul class="lines plain">
        {reasons.map((reason) => (
          <li key={reason}>{reason}</li>
        ))}
      </ul>
      <Lines title="Not known" lines={unknown} kind="doubts" />
      <div class="steps">
        <button type="button" class="quiet small" onClick={() => flyTo(null, [at], 300)}>
          Show on the map<span class="unseen">: {name}</span>
        </button>
        <button
          type="button"
          class={faults.length > 0 ? 'quiet small' : 'strong small'}
          disabled={used}
          onClick={() => void useSite(site)}
        >
          {used ? 'Proposed' : 'Use this site'}
          <span class="unseen">: {name}</span>
        </button>
      </div>
    </section>
  );
}
