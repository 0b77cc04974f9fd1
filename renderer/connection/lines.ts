/**
 * Splits a byte stream of newline-delimited JSON into values. A chunk may end in the middle of a line or of a
 * UTF-8 sequence; blank lines are the host's heartbeat and are skipped.
 */
export function lineReader(onValue: (value: unknown) => void): (chunk: Uint8Array) => void {
  const decoder = new TextDecoder();
  let rest = '';
  return (chunk) => {
    const lines = (rest + decoder.decode(chunk, { stream: true })).split('\n');
    rest = lines.pop() ?? '';
    for (const line of lines) if (line.trim() !== '') onValue(JSON.parse(line));
  };
}

/** Base64url of UTF-8 text, the form a header can carry. */
export function base64url(text: string): string {
  let binary = '';
  for (const byte of new TextEncoder().encode(text)) binary += String.fromCharCode(byte);
  return btoa(binary).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}
