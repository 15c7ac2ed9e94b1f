import { describe, expect, it } from 'vitest';
import { ConfigRefused, configOf } from '../../server/config.ts';
import { endingFor } from '../../server/ending.ts';
import { calledByOwnName, sameOrigin } from '../../server/live/origin.ts';
import { DataFileError } from '../../server/store/data-file-error.ts';

describe('how it is started', () => {
  it('[W3] alone: this machine only, port 4680, ./data', () => {
    expect(configOf([], {})).toMatchObject({ port: 4680, lan: false, data: 'data', clockFile: null, readyFile: null });
  });

  it('[W3] a flag wins over the environment', () => {
    const environment = {
      BASINBELL_PORT: '4700',
      BASINBELL_LAN: '1',
      BASINBELL_DATA: '/a',
      BASINBELL_HOST_NAME: 'Kiosk, bell.lan',
    };
    expect(configOf([], environment)).toMatchObject({ port: 4700, lan: true, data: '/a' });
    expect(configOf(['--port', '4701', '--data=/b'], environment)).toMatchObject({ port: 4701, data: '/b' });
    expect([...configOf([], environment).hostNames]).toEqual(
      expect.arrayContaining(['localhost', 'kiosk', 'bell.lan']),
    );
  });

  it('[W3] refuses with a sentence that names the flag', () => {
    for (const [args, name] of [
      [['--port', 'x'], '--port'],
      [['--port', '70000'], '--port'],
      [['--prot', '1'], '--prot'],
      [['4680'], '4680'],
    ] as const) {
      expect(() => configOf(args, {})).toThrow(ConfigRefused);
      expect(() => configOf(args, {})).toThrow(name);
    }
    expect(() => configOf([], { BASINBELL_LAN: 'maybe' })).toThrow('--lan');
  });

  it('[W3] a certificate and its key are given both or not at all', () => {
    expect(configOf([], {}).tls).toBeNull();
    const tls = { cert: '/c.pem', key: '/k.pem' };
    expect(configOf(['--tls-cert', '/c.pem', '--tls-key=/k.pem'], {}).tls).toEqual(tls);
    expect(configOf([], { BASINBELL_TLS_CERT: '/c.pem', BASINBELL_TLS_KEY: '/k.pem' }).tls).toEqual(tls);
    expect(() => configOf(['--tls-cert', '/c.pem'], {})).toThrow('--tls-cert was given without --tls-key');
    expect(() => configOf(['--tls-key', '/k.pem'], {})).toThrow('--tls-key was given without --tls-cert');
  });

  it('[W3] each reason not to start has its own code', () => {
    const taken = Object.assign(new Error('x'), { code: 'EADDRINUSE' });
    expect(endingFor(taken, 4680)).toMatchObject({ code: 3, sentence: expect.stringContaining('4680') as string });
    expect(endingFor(new DataFileError('folder', 'No.'), 1)).toEqual({ code: 4, sentence: 'No.' });
    expect(endingFor(new DataFileError('newer', 'No.'), 1)).toEqual({ code: 5, sentence: 'No.' });
    expect(endingFor(new DataFileError('not-ours', 'No.'), 1).code).toBe(5);
    expect(endingFor(new ConfigRefused('No.'), 1).code).toBe(2);
    expect(endingFor(new Error('a fault'), 1)).toEqual({ code: 1, sentence: null });
  });
});

describe('whose page it is', () => {
  const names = new Set(['localhost', 'kiosk.local']);
  it('[W3] called by address or by a name of its own', () => {
    for (const host of ['127.0.0.1:4680', '192.168.1.4', '[::1]:4680', 'localhost:4680', 'KIOSK.local'])
      expect(calledByOwnName(host, names)).toBe(true);
    for (const host of [
      undefined,
      '',
      'elsewhere.example',
      'localhost.elsewhere.example',
      'a b',
      '127.0.0.1.example',
    ]) {
      expect(calledByOwnName(host, names)).toBe(false);
    }
  });

  it('[W3] a page acts only where it came from; what is no page says nothing', () => {
    expect(sameOrigin(undefined, 'localhost:1')).toBe(true);
    expect(sameOrigin('http://localhost:1', 'localhost:1')).toBe(true);
    expect(sameOrigin('https://localhost:1', 'localhost:1')).toBe(true);
    expect(sameOrigin('https://bell.example', 'bell.example')).toBe(true);
    expect(sameOrigin('https://bell.example', 'bell.example:443')).toBe(true);
    for (const origin of ['http://localhost:2', 'ftp://localhost:1', 'http://elsewhere.example', 'null', ''])
      expect(sameOrigin(origin, 'localhost:1')).toBe(false);
  });
});
