import { protocol, type Session } from 'electron';
import { SECURITY_HEADERS, type StaticFile } from './static-files.ts';
import { SCHEME, WINDOW_ADDRESS } from './wire.ts';

/** Must run before the app is ready. Standard and secure, so that the window has an origin and its CSP holds. */
export function registerScheme(): void {
  protocol.registerSchemesAsPrivileged([
    { scheme: SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true } },
  ]);
}

/** Whether an address is the window's own. */
export function isWindowAddress(address: string): boolean {
  return address.startsWith(WINDOW_ADDRESS);
}

/** Serves the window's files on its scheme and lets the session reach nothing else. */
export function serveScheme(session: Session, files: (path: string) => StaticFile | null): void {
  session.protocol.handle(SCHEME, (request) => {
    const { host, pathname } = new URL(request.url);
    const file = host === 'window' && request.method === 'GET' ? files(pathname) : null;
    if (file === null) return new Response('There is no such page here.', { status: 404 });
    return new Response(file.bytes, { headers: { ...SECURITY_HEADERS, 'Content-Type': file.type } });
  });
  session.webRequest.onBeforeRequest(({ url }, decide) => {
    decide({ cancel: !(isWindowAddress(url) || /^(blob:hollowgate:|data:|devtools:)/.test(url)) });
  });
}
