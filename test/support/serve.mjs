// Tiny static server for the end-to-end tests: one folder, loopback only, cross-origin isolation headers.
import { createReadStream, existsSync, statSync } from 'node:fs';
import { createServer } from 'node:http';
import { extname, join, normalize, sep } from 'node:path';

const TYPES = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json',
  '.wasm': 'application/wasm',
};

const ISOLATION = {
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Embedder-Policy': 'require-corp',
};

/**
 * Serves a folder on a free loopback port.
 * @param {string} folder
 * @param {{ isolated?: boolean, under?: string }} [options] without `isolated: false` the page is cross-origin isolated;
 *   `under` is a sub-path such as '/tools/blade'
 * @returns {Promise<{ url: string, close: () => Promise<void> }>}
 */
export function serve(folder, { isolated = true, under = '' } = {}) {
  const server = createServer((request, response) => {
    const path = decodeURIComponent(new URL(request.url ?? '/', 'http://localhost').pathname);
    const inside = path.startsWith(`${under}/`) ? path.slice(under.length) : null;
    const file = inside === null ? '' : join(folder, normalize(inside.endsWith('/') ? `${inside}index.html` : inside));
    const held = file === folder || file.startsWith(folder.endsWith(sep) ? folder : folder + sep);
    if (!held || !existsSync(file) || !statSync(file).isFile()) {
      response.writeHead(404).end();
      return;
    }
    const type = TYPES[extname(file)] ?? 'application/octet-stream';
    response.writeHead(200, { 'Content-Type': type, 'Cache-Control': 'no-store', ...(isolated ? ISOLATION : {}) });
    createReadStream(file).pipe(response);
  });
  return new Promise((resolve) => {
    server.listen(0, '127.0.0.1', () => {
      const url = `http://127.0.0.1:${server.address().port}${under}/`;
      resolve({ url, close: () => new Promise((done) => server.close(() => done())) });
    });
  });
}
