import { expect, it } from 'vitest';
import { HouseNames } from '../../../../server/reach/hooks/names.ts';

const settled = (): Promise<void> => new Promise((done) => void setImmediate(done));

it('[R9] names of the house are asked of the system, two at a time, so that threads are left for files', async () => {
  const asked: string[] = [];
  const answers: ((found: readonly string[]) => void)[] = [];
  const names = new HouseNames((host) => {
    asked.push(host);
    return new Promise((resolve) => answers.push(resolve));
  });
  const found = ['lamp', 'bell.local', 'relay', 'fourth'].map((host) => names.find(host));
  await settled();
  expect(asked).toEqual(['lamp', 'bell.local']);
  answers[0]?.(['192.168.7.40']);
  await settled();
  expect(asked).toEqual(['lamp', 'bell.local', 'relay']);
  expect(await found[0]).toEqual(['192.168.7.40']);
  for (let n = 1; n < 4; n += 1) {
    answers[n]?.([`192.168.7.4${n}`]);
    await settled();
  }
  expect(await Promise.all(found)).toEqual([['192.168.7.40'], ['192.168.7.41'], ['192.168.7.42'], ['192.168.7.43']]);
});

it('[R9] a look-up that fails lets the next one go', async () => {
  const names = new HouseNames((host) =>
    host === 'well' ? Promise.resolve(['::1']) : Promise.reject(new Error('no')),
  );
  await expect(Promise.all(['a', 'b', 'c'].map((host) => names.find(host)))).rejects.toThrow('no');
  expect(await names.find('well')).toEqual(['::1']);
});

it('[R9] an address is its own answer, and localhost is known to the system', async () => {
  const never = new HouseNames(() => Promise.reject(new Error('asked')));
  expect(await never.find('192.168.7.40')).toEqual(['192.168.7.40']);
  expect(await never.find('fd00::40')).toEqual(['fd00::40']);
  const found = await new HouseNames().find('localhost');
  expect(found.some((one) => one === '127.0.0.1' || one === '::1')).toBe(true);
});
