/** Blocks of pcapng by hand, from draft-ietf-opsawg-pcapng: type, length, body, options, length again; either byte order. */

export type Option = readonly [code: number, value: string | readonly number[]];

export class PcapngBytes {
  readonly #little: boolean;

  constructor(order: "little" | "big") {
    this.#little = order === "little";
  }

  section(options: readonly Option[] = [], version = 1): Uint8Array {
    return this.block(
      0x0a0d0d0a,
      [...this.u32(0x1a2b3c4d), ...this.u16(version), 0, 0, ...Array(8).fill(255)],
      options,
    );
  }

  interface(linkType: number, options: readonly Option[] = []): Uint8Array {
    return this.block(1, [...this.u16(linkType), 0, 0, ...this.u32(0)], options);
  }

  /** `capturedLength` when it is to lie. */
  packet(data: ArrayLike<number>, options: readonly Option[] = [], capturedLength = data.length): Uint8Array {
    const head = [0, 0, 0, capturedLength, data.length].flatMap((value) => this.u32(value));
    return this.block(6, [...head, ...padded(Array.from(data))], options);
  }

  /** The same for an interface other than the first. */
  packetOf(number: number, data: ArrayLike<number>): Uint8Array {
    const bytes = this.packet(data);
    bytes.set(this.u32(number), 8);
    return bytes;
  }

  simplePacket(data: ArrayLike<number>): Uint8Array {
    return this.block(3, [...this.u32(data.length), ...padded(Array.from(data))], []);
  }

  block(type: number, body: readonly number[], options: readonly Option[]): Uint8Array {
    const tail = options.flatMap(([code, value]) => {
      const bytes = typeof value === "string" ? [...new TextEncoder().encode(value)] : [...value];
      return [...this.u16(code), ...this.u16(bytes.length), ...padded(bytes)];
    });
    const end = options.length > 0 ? [0, 0, 0, 0] : [];
    const length = this.u32(12 + body.length + tail.length + end.length);
    return Uint8Array.from([...this.u32(type), ...length, ...body, ...tail, ...end, ...length]);
  }

  u16(value: number): number[] {
    const bytes = [value >> 8, value & 255];
    return this.#little ? bytes.reverse() : bytes;
  }

  u32(value: number): number[] {
    const bytes = [24, 16, 8, 0].map((shift) => (value >>> shift) & 255);
    return this.#little ? bytes.reverse() : bytes;
  }
}

function padded(bytes: readonly number[]): number[] {
  return [...bytes, ...Array((4 - (bytes.length % 4)) % 4).fill(0)];
}
