import type { StandCamerasAnswer } from '../../../electron/service/contract.ts';
import { standsReady } from '../../state/stands-asks.ts';
import { cameras } from '../../state/stands-search.ts';
import { flyTo } from '../../state/view.ts';
import { Asking } from '../Asking.tsx';
import { Lines, Section } from '../Finding.tsx';

/** Where a camera would settle most of what the model does not know. */
export function Cameras() {
  const answer = cameras.answer.value;
  return (
    <Section title="Where a camera would settle most">
      <p class="facts">
        Travel is solved again under plausible weights; where the answers differ most on the client’s own
        ground near stands, necks and junctions, a count decides.
      </p>
      <div class="ask-form">
        <button
          type="button"
          class="quiet"
          disabled={!standsReady.value}
          onClick={() => void cameras.put({})}
        >
          Find places for a camera
        </button>
      </div>
      <section class="answer" aria-label="Places for a camera" aria-live="polite">
        <Asking of={cameras} what="Solving travel under plausible weights" />
        {answer && <Found answer={answer} />}
      </section>
    </Section>
  );
}

function Found({ answer: { places, beside, sentences, doubts } }: { answer: StandCamerasAnswer }) {
  return (
    <>
      {sentences.map((line) => (
        <p key={line} class="para">
          {line}
        </p>
      ))}
      {places.map(({ at, days, near, sentences: told }, k) => (
        <section key={at.join()} class="ruling" aria-label={`Camera ${k + 1}`}>
          <h3>
            C{k + 1}: by {near.name}, {days} days
          </h3>
          <ul class="lines plain">
            {told.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
          <button type="button" class="quiet small" onClick={() => flyTo(null, [at], 300)}>
            Show on the map<span class="unseen">: camera {k + 1}</span>
          </button>
        </section>
      ))}
      {beside && places.length > 0 && (
        <p class="para">
          The weights agree best at another place.{' '}
          <button type="button" class="quiet small" onClick={() => flyTo(null, [beside.at], 300)}>
            Show where the second camera counts
          </button>
        </p>
      )}
      <Lines title="What this cannot know" lines={doubts} kind="doubts" />
    </>
  );
}
