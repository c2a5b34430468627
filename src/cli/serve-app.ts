import { createReadStream, existsSync, readFileSync, statSync } from 'node:fs';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, sep } from 'node:path';
import { CamberwrightError } from '../error.ts';

/** A file on disk served under an address beside the page. */
export interface ServedFile {
  address: string;
  path: string;
}

export interface ServedApp {
  /** Address of the page. */
  url: string;
  close(): Promise<void>;
}

const TYPES: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.wasm': 'application/wasm',
};

/** The page is cut off from everything but this server, and isolated so that threads may share memory. */
const HEADERS = {
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Embedder-Policy': 'require-corp',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Content-Security-Policy':
    "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; connect-src 'self'; worker-src 'self' blob:; " +
    "style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; font-src 'self'; frame-src 'self'; " +
    "object-src 'none'; base-uri 'self'; form-action 'none'; frame-ancestors 'self'",
  'Referrer-Policy': 'no-referrer',
  'X-Content-Type-Options': 'nosniff',
  'Cache-Control': 'no-store',
};

const SESSION_META = '<meta name="camberwright-session" content="session.json" />';

/**
 * Serves the built app and named files on the loopback address only. Files are found by their exact address, so no path
 * leads outside the app's folder; requests that name another host are refused.
 *
 * @param folder folder of the built app, with index.html
 * @param session record the page asks for as `session.json`, null to start the page empty
 * @param port 0 takes a free one
 * @throws `usage/port` when the port cannot be had
 */
export async function serveApp(
  folder: string,
  session: object | null,
  files: readonly ServedFile[],
  port: number,
): Promise<ServedApp> {
  const named = new Map(files.map(({ address, path }) => [`/${address}`, path]));
  const page = readFileSync(join(folder, 'index.html'), 'utf8');
  const html = session === null ? page : page.replace('</head>', `${SESSION_META}</head>`);
  const hosts = new Set<string>();

  const answer = (request: IncomingMessage, response: ServerResponse) => {
    const path = pathOf(request.url ?? '/');
    const send = (status: number, type: string, body: string) => {
      response.writeHead(status, { ...HEADERS, 'Content-Type': type });
      response.end(request.method === 'HEAD' ? undefined : body);
    };
    if (!hosts.has(request.headers.host ?? '')) return send(403, 'text/plain', 'This server answers to loopback only.');
    if (request.method !== 'GET' && request.method !== 'HEAD') return send(405, 'text/plain', 'Only GET and HEAD.');
    if (path === '/' || path === '/index.html') return send(200, TYPES['.html'], html);
    if (path === '/session.json' && session !== null) return send(200, TYPES['.json'], JSON.stringify(session));
    const file = path === null ? null : (named.get(path) ?? appFile(folder, path));
    if (file === null || !existsSync(file)) return send(404, 'text/plain', 'There is nothing here.');
    response.writeHead(200, {
      ...HEADERS,
      'Content-Type': TYPES[extname(file)] ?? 'application/octet-stream',
      'Content-Length': statSync(file).size,
    });
    if (request.method === 'HEAD') response.end();
    else
      createReadStream(file)
        .on('error', () => response.destroy())
        .pipe(response);
  };

  const server = createServer(answer);
  await new Promise<void>((done, failed) => {
    server.once('error', (cause: NodeJS.ErrnoException) => {
      const message = `Port ${port} cannot be used: ${cause.code ?? cause.message}.`;
      failed(new CamberwrightError('usage/port', message, { remedy: 'Leave --port out to take a free one.', cause }));
    });
    server.listen(port, '127.0.0.1', done);
  });
  const taken = (server.address() as AddressInfo).port;
  for (const host of ['127.0.0.1', 'localhost']) hosts.add(`${host}:${taken}`);
  return {
    url: `http://127.0.0.1:${taken}/`,
    close: () =>
      new Promise((done) => {
        server.close(() => done());
        server.closeAllConnections();
      }),
  };
}

/** Path of a request without query; null when it is not decodable. */
function pathOf(url: string): string | null {
  try {
    return decodeURIComponent(url.replace(/[?#].*$/s, ''));
  } catch {
    return null;
  }
}

/** File of the app for a path; null outside the app's folder and for folders. */
function appFile(folder: string, path: string): string | null {
  if (path.includes('\0')) return null;
  const root = join(folder, sep);
  const file = join(root, path);
  return file.startsWith(root) && existsSync(file) && statSync(file).isFile() ? file : null;
}
