// A lamp that is a line of text: shows how a light or buzzer is told of bells (README, "Lights and buzzers").
//   node scripts/example-lamp.mjs whsec_… [PORT]
import { createServer } from 'node:http';

// The lines of the README begin here.
import { createHmac, timingSafeEqual } from 'node:crypto';

function isSigned(secret, { 'webhook-id': id, 'webhook-timestamp': at, 'webhook-signature': given = '' }, body) {
  if (!(Math.abs(Date.now() / 1000 - Number(at)) <= 300)) return false; // older than five minutes: somebody plays it again
  const key = Buffer.from(secret.replace('whsec_', ''), 'base64');
  const own = createHmac('sha256', key).update(`${id}.${at}.${body}`).digest();
  return given.split(' ').some((one) => {
    const theirs = Buffer.from(one.replace(/^v1,/, ''), 'base64');
    return one.startsWith('v1,') && theirs.length === own.length && timingSafeEqual(theirs, own);
  });
}
// They end here.

const [secret, port = '8123'] = process.argv.slice(2);
if (secret === undefined) {
  console.error('Name the secret that the salon page shows once: node scripts/example-lamp.mjs whsec_…');
  process.exit(2);
}

/** Ids of the last steps: one that was tried again may arrive twice. */
const heard = [];

function show({ data, untaken }) {
  const level = ['DANGER', 'WARNING', 'CAUTION', 'NOTICE'].find((one) => untaken[one] > 0) ?? 'dark';
  const { of, label } = data.subject;
  console.log(`lamp ${level}: ${data.kind ?? data.step} ${data.step}, ${of === 'chair' ? `chair ${label}` : 'floor'}`);
}

const server = createServer((request, response) => {
  let body = '';
  request.setEncoding('utf8').on('data', (part) => (body += part));
  request.on('end', () => {
    if (!isSigned(secret, request.headers, body)) return response.writeHead(401).end();
    // First the answer, then the light: it is not waited for.
    response.writeHead(204).end();
    const id = request.headers['webhook-id'];
    if (heard.includes(id)) return;
    heard.push(id);
    if (heard.length > 1000) heard.shift();
    show(JSON.parse(body));
  });
});
server.listen(Number(port), () => console.log(`listening on http://127.0.0.1:${server.address().port}/`));
