import { useRef } from 'preact/hooks';
import { opening, takeInto } from '../../state/opening.ts';
import { summary } from '../../state/session.ts';
import { Section } from '../Finding.tsx';

/** Files of hourly wind for the open property: the first record, more years, or another in its place. */
export function WindFiles() {
  const files = useRef<HTMLInputElement>(null);
  const wind = summary.value?.wind;
  return (
    <Section title={wind ? 'More wind, or other wind' : 'Add a wind record'}>
      <p class="para">
        ISD-Lite years, plain or packed, Global Hourly tables, or any table of hourly wind, as many at once as
        there are. {wind ? 'You are asked whether they join the record or take its place. ' : ''}Undo takes it
        back.
      </p>
      <input
        ref={files}
        type="file"
        multiple
        class="unseen"
        tabIndex={-1}
        aria-label="Files of hourly wind"
        onChange={(event) => {
          const list = [...(event.currentTarget.files ?? [])];
          event.currentTarget.value = '';
          void takeInto('open', list);
        }}
      />
      <button
        type="button"
        class="quiet"
        disabled={opening.value !== null}
        onClick={() => files.current?.click()}
      >
        Choose wind files…
      </button>
    </Section>
  );
}
