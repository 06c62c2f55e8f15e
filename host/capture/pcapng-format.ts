/**
 * Numbers of pcapng, the capture file of the IETF draft "PCAP Next Generation Capture File Format"
 * (draft-ietf-opsawg-pcapng), and of the link type our packets have.
 */

/** Block types. */
export const SECTION = 0x0a0d0d0a;
export const INTERFACE = 1;
export const SIMPLE_PACKET = 3;
export const ENHANCED_PACKET = 6;

/** In a section header: read in the right byte order it is this. */
export const BYTE_ORDER_MAGIC = 0x1a2b3c4d;
export const MAJOR_VERSION = 1;

/** Options. */
export const END_OF_OPTIONS = 0;
export const COMMENT = 1;
export const SECTION_APPLICATION = 4;
export const INTERFACE_NAME = 2;
export const INTERFACE_DESCRIPTION = 3;
export const TIME_RESOLUTION = 9;
export const PACKET_FLAGS = 2;

/** Last two bits of a packet's flags. */
export const INBOUND = 1;
export const OUTBOUND = 2;

/** LINKTYPE_USER0 of the tcpdump group's list: kept for private use, which ours is. */
export const LINK_TYPE = 147;

/** Type, length, and length again. */
export const LEAST_BLOCK = 12;

/** Longest block that is believed, in bytes: of the types we read, and of others. */
export const MOST_KNOWN = 1 << 18;
export const MOST_UNKNOWN = 1 << 24;

/** Bytes up to the next multiple of four. */
export function padded(length: number): number {
  return (length + 3) & ~3;
}
