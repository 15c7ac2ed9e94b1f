import { openDeviceStore, type DeviceStore } from './device-store.ts';
import { browserTimers } from './timers.ts';

let opened: Promise<DeviceStore> | null = null;

/** The one database of this device, opened once by this page. */
export function deviceStore(): Promise<DeviceStore> {
  opened ??= openDeviceStore(browserTimers);
  return opened;
}
