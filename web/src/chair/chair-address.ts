/** The chair that an address such as `/chair/4` names; null when it names none. */
export function chairOf(address: string): number | null {
  const [, , last = ''] = address.split('/');
  return /^[0-9]{1,4}$/.test(last) ? Number(last) : null;
}
