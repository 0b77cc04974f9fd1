import { useEffect, useState } from 'preact/hooks';
import type { AttributeValue } from '../../core/features/feature.ts';
import { ask } from '../state/session.ts';

/** The picture of a note, when it was taken and which way it looks; a clip by its name. */
export function FromTheWalk({ attributes }: { attributes: Record<string, AttributeValue> }) {
  const { photo, clip, taken, bearing } = attributes;
  const facts = [
    typeof taken === 'string' && `Taken ${new Date(taken).toLocaleString()}`,
    typeof bearing === 'number' && `looking ${Math.round(bearing)}° from true north`,
    typeof clip === 'string' && `the clip is ${clip}, kept where you have it`,
  ].filter(Boolean);
  return (
    <>
      {typeof photo === 'string' && <Picture id={photo} />}
      {facts.length > 0 && <p class="facts">{facts.join(', ')}.</p>}
    </>
  );
}

function Picture({ id }: { id: string }) {
  const [url, setUrl] = useState<string | null>(null);
  const [trouble, setTrouble] = useState(false);
  useEffect(() => {
    let made: string | null = null;
    let gone = false;
    ask('notes.picture', { id }).then(
      (bytes) => {
        if (gone) return;
        if (bytes.length === 0) setTrouble(true);
        else {
          made = URL.createObjectURL(new Blob([Uint8Array.from(bytes)]));
          setUrl(made);
        }
      },
      () => setTrouble(true),
    );
    return () => {
      gone = true;
      if (made) URL.revokeObjectURL(made);
    };
  }, [id]);
  if (trouble) return <p class="facts">This window cannot show the picture; it is kept in the property.</p>;
  return url && <img class="walk-picture" src={url} alt="From the walk" onError={() => setTrouble(true)} />;
}
