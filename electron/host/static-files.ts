import { readdirSync, readFileSync } from 'node:fs';
import { extname, join, relative, sep } from 'node:path';

/** What the window may load: its own files, images it makes itself, nothing from elsewhere and nothing inline. */
export const CONTENT_SECURITY_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' blob: data:",
  "connect-src 'self'",
  "font-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

/** On every answer of either host. */
export const SECURITY_HEADERS: Readonly<Record<string, string>> = {
  'Content-Security-Policy': CONTENT_SECURITY_POLICY,
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Embedder-Policy': 'require-corp',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Permissions-Policy': 'camera=(), microphone=(), geolocation=(), usb=(), serial=()',
};

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff': 'font/woff',
  '.woff2': 'font/woff2',
};

export interface StaticFile {
  type: string;
  bytes: Uint8Array<ArrayBuffer>;
}

/**
 * The window's files by address path, listed once at the start: only a file on the list can be asked for, so
 * no path from outside ever reaches the file system.
 */
export function staticFiles(folder: string): (path: string) => StaticFile | null {
  const byPath = new Map<string, string>();
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    const file = join(entry.parentPath, entry.name);
    if (entry.isFile() && extname(entry.name) in TYPES) {
      byPath.set(`/${relative(folder, file).split(sep).join('/')}`, file);
    }
  }
  const index = byPath.get('/index.html');
  if (index !== undefined) byPath.set('/', index);
  return (path) => {
    const file = byPath.get(path);
    if (file === undefined) return null;
    return { type: TYPES[extname(file)]!, bytes: new Uint8Array(readFileSync(file)) };
  };
}
