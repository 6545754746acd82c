/** What /metrics says agrees with what was asked, and every line is of the format that monitors read. */
import { expect, it } from 'vitest';
import { openApp } from '../support/http.js';

const good = '/v1/ratio?driveWheel=520mm&whorl=40mm&band=2mm';

it('counts requests by address and problems by code, in the text format of Prometheus', async () => {
  const app = await openApp();
  const read = async (): Promise<Map<string, number>> => {
    const reply = await app.inject('/metrics');
    expect(reply.statusCode).toBe(200);
    expect(reply.headers['content-type']).toBe('text/plain; version=0.0.4; charset=utf-8');
    expect(reply.headers['cache-control']).toBe('no-store');
    const lines = reply.body.trimEnd().split('\n');
    const samples = lines.filter((line) => !line.startsWith('#') && line !== '');
    expect(samples.length).toBeGreaterThan(20);
    // Prometheus, Exposition formats: name, labels in braces, a number.
    for (const line of samples) expect(line).toMatch(/^[a-zA-Z_:][a-zA-Z0-9_:]*(\{([a-zA-Z_]\w*="(\\.|[^"\\])*",?)*\})? (-?[\d.]+(e[+-]?\d+)?|[+-]Inf|[Nn]a[Nn])$/);
    for (const line of lines.filter((text) => text.startsWith('# TYPE'))) expect(line).toMatch(/^# TYPE \w+ (counter|gauge|histogram|summary)$/);
    return new Map(samples.map((line): [string, number] => [line.slice(0, line.lastIndexOf(' ')), Number(line.slice(line.lastIndexOf(' ') + 1))]));
  };
  await read();
  for (let i = 0; i < 32; i++) await app.inject(good);
  await app.inject('/v1/ratio?driveWeel=520mm');
  await app.inject('/nowhere');
  const counted = await read();
  expect(counted.get('wheelgrist_requests_total{route="GET /v1/ratio"}')).toBe(33);
  expect(counted.get('wheelgrist_problems_total{code="unknown-field"}')).toBe(1);
  expect(counted.get('wheelgrist_problems_total{code="not-found"}')).toBe(1);
  // The samples of 36 requests since the first look, whatever they were.
  expect(counted.get('wheelgrist_request_seconds_count')).toBe(2);
  await app.close();
});

it('nothing of a request but its route is in it', async () => {
  const app = await openApp();
  await app.inject({ url: `${good}&thornmereSecret=1`, headers: { authorization: 'Bearer wgk_secret' } });
  await app.inject('/thornmereSecret');
  expect((await app.inject('/metrics')).body).not.toMatch(/[sS]ecret/);
  await app.close();
});
