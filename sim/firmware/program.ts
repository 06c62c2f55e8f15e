/** The C firmware as a program: one WebAssembly instance, one tag's microcontroller. */
import { wasmBase64 } from "./wasm-binary.ts";

/** Next thing the duty cycle does; order and names of the C enumeration. */
export const phases = [
  "cold_start",
  "check_supply",
  "start_conversion",
  "read_sensor",
  "seal_frame",
  "commit_frame",
  "commit_counters",
  "commit_burst",
] as const;
export type Phase = (typeof phases)[number];

/** What the firmware reaches through its nine port functions; their rules stand in protocol/firmware/plyframe_port.h. */
export interface Port {
  /** Milliseconds since the cold start. */
  nowMs(): number;
  sleepUntil(ms: number): void;
  supplyMv(): number;
  sensorStart(): boolean;
  sensorReady(): boolean;
  /** Pressure in 1/128 Pa and temperature in 0.01 °C of the finished conversion; null when the sensor does not answer. */
  sensorRead(): { readonly pressure: number; readonly temperature: number } | null;
  /** Words of the USER bank; null when the bridge refuses. */
  bridgeRead(word: number, count: number): ArrayLike<number> | null;
  bridgeWrite(word: number, value: number): boolean;
  bridgeSettle(): boolean;
}

interface Exports {
  readonly memory: WebAssembly.Memory;
  start(): void;
  step(): number;
  state_address(): number;
  state_size(): number;
}

let shipped: WebAssembly.Module | null = null;

/** The checked-in module, compiled at its first use and then shared by every tag. */
export function shippedModule(): WebAssembly.Module {
  shipped ??= new WebAssembly.Module(Uint8Array.from(atob(wasmBase64), (char) => char.charCodeAt(0)));
  return shipped;
}

export class Program {
  readonly #exports: Exports;
  #phase: Phase = "cold_start";

  constructor(module: WebAssembly.Module, port: Port) {
    const memory = () => new DataView(this.#exports.memory.buffer);
    const env = {
      ply_port_now_ms: () => port.nowMs() | 0,
      ply_port_sleep_until: (ms: number) => port.sleepUntil(ms >>> 0),
      ply_port_supply_mv: () => port.supplyMv(),
      ply_port_sensor_start: () => Number(port.sensorStart()),
      ply_port_sensor_ready: () => Number(port.sensorReady()),
      ply_port_sensor_read: (pressureAt: number, temperatureAt: number) => {
        const found = port.sensorRead();
        if (!found) return 0;
        memory().setUint32(pressureAt, found.pressure, true);
        memory().setInt16(temperatureAt, found.temperature, true);
        return 1;
      },
      ply_port_bridge_read: (word: number, at: number, count: number) => {
        const words = port.bridgeRead(word, count);
        if (!words) return 0;
        for (let i = 0; i < count; i++) memory().setUint16(at + 2 * i, words[i]!, true);
        return 1;
      },
      ply_port_bridge_write: (word: number, value: number) => Number(port.bridgeWrite(word, value & 0xffff)),
      ply_port_bridge_settle: () => Number(port.bridgeSettle()),
    };
    this.#exports = new WebAssembly.Instance(module, { env }).exports as unknown as Exports;
  }

  /** Power came from nothing. */
  start(): void {
    this.#exports.start();
    this.#phase = "cold_start";
  }

  /** The phase that `step` does next. */
  get phase(): Phase {
    return this.#phase;
  }

  /** Does one phase. */
  step(): void {
    this.#phase = phases[this.#exports.step()]!;
  }

  /** The firmware's whole RAM, in place. */
  get state(): Uint8Array {
    return new Uint8Array(this.#exports.memory.buffer, this.#exports.state_address(), this.#exports.state_size());
  }
}
