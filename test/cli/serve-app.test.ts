import { mkdirSync } from 'node:fs';
import { request } from 'node:http';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type ServedApp, serveApp } from '../../src/cli/serve-app.ts';
import { type Bench, makeBench } from './parts.ts';

let bench: Bench;
let app: ServedApp;
const session = { nominal: 'session/0/blade%20%C3%A4.csv', measured: [] };

beforeAll(async () => {
  bench = makeBench();
  mkdirSync(bench.path('app/assets'), { recursive: true });
  bench.put('app/index.html', '<!doctype html><html><head><title>t</title></head><body></body></html>');
  bench.put('app/assets/a.js', 'export const a = 1;');
  bench.put('secret.txt', 'secret');
  bench.put('blade.csv', 'x,y,z');
  const files = [{ address: 'session/0/blade ä.csv', path: bench.path('blade.csv') }];
  app = await serveApp(bench.path('app'), session, files, 0);
});
afterAll(async () => {
  await app.close();
  bench.remove();
});

/** Asks for a path as it stands; fetch would tidy it up first. */
function ask(
  path: string,
  options: { method?: string; host?: string } = {},
): Promise<{ status: number; body: string }> {
  const { hostname, port } = new URL(app.url);
  const headers = options.host === undefined ? {} : { host: options.host };
  return new Promise((resolve, reject) => {
    request({ hostname, port, path, method: options.method ?? 'GET', headers }, (response) => {
      let body = '';
      response.setEncoding('utf8').on('data', (text: string) => {
        body += text;
      });
      response.on('end', () => resolve({ status: response.statusCode ?? 0, body }));
    })
      .on('error', reject)
      .end();
  });
}

test('listens on loopback only', () => {
  expect(new URL(app.url).hostname).toBe('127.0.0.1');
});

test('the page names its session and is isolated and cut off', async () => {
  const response = await fetch(app.url);
  expect(await response.text()).toContain('<meta name="camberwright-session" content="session.json" /></head>');
  const { headers } = response;
  expect(headers.get('cross-origin-opener-policy')).toBe('same-origin');
  expect(headers.get('cross-origin-embedder-policy')).toBe('require-corp');
  expect(headers.get('content-security-policy')).toContain("connect-src 'self'");
  expect(headers.get('content-security-policy')).not.toContain('http');
});

test('a file opened is found by the address in the session, byte for byte', async () => {
  const found = await (await fetch(new URL('session.json', app.url))).json();
  expect(found).toEqual(session);
  expect(await (await fetch(new URL(found.nominal, app.url))).text()).toBe('x,y,z');
});

test('programs have the type browsers ask for', async () => {
  const response = await fetch(new URL('assets/a.js', app.url));
  expect(response.headers.get('content-type')).toContain('text/javascript');
  expect(await response.text()).toBe('export const a = 1;');
});

describe('nothing else is served', () => {
  test.each([
    '/../secret.txt',
    '/%2e%2e/secret.txt',
    '/assets/..%2f..%2fsecret.txt',
    '/..%5csecret.txt',
    '/assets',
    '/%00',
    '/%',
    '/session/0/other.csv',
    '/session/1/blade.csv',
  ])('%s', async (path) => {
    const { status, body } = await ask(path);
    expect(status).toBe(404);
    expect(body).not.toContain('secret');
  });

  test('to a page that reached this computer under another name', async () => {
    expect((await ask('/', { host: 'elsewhere.test' })).status).toBe(403);
    expect((await ask('/', { host: new URL(app.url).host })).status).toBe(200);
  });

  test('by other methods', async () => {
    expect((await ask('/', { method: 'POST' })).status).toBe(405);
  });
});

test('a port in use is refused', async () => {
  const port = Number(new URL(app.url).port);
  await expect(serveApp(bench.path('app'), null, [], port)).rejects.toMatchObject({ code: 'usage/port', exitCode: 2 });
});
