/** Fills an array with random bytes. */
export type Randomness = (bytes: Uint8Array<ArrayBuffer>) => void;

/**
 * Makes keys on the phone: UUID version 7 (RFC 9562, section 5.7), each greater than the one before, also within a millisecond and
 * when the clock is put back. The twelve bits after the version count up (section 6.2, method 1).
 */
export class Keys {
  private last = 0;
  private count = 0;

  constructor(private readonly randomness: Randomness) {}

  /** @param now milliseconds since 1970. */
  make(now: number): string {
    const bytes = new Uint8Array(16);
    this.randomness(bytes);
    if (now > this.last) {
      this.last = now;
      this.count = ((bytes[6]! << 8) | bytes[7]!) & 0x7ff;
    } else if (++this.count > 0xfff) {
      this.last++;
      this.count = 0;
    }

    for (let at = 5, rest = this.last; at >= 0; at--, rest = Math.floor(rest / 256)) {
      bytes[at] = rest % 256;
    }

    bytes[6] = 0x70 | (this.count >> 8);
    bytes[7] = this.count & 0xff;
    bytes[8] = 0x80 | (bytes[8]! & 0x3f);
    return keyText(bytes);
  }
}

/** The code of a lot in the address on its label, such as `/pocket/K7Q-2M9D`; null where the address is another. */
export function codeIn(path: string): string | null {
  return /^\/pocket\/([0-9A-HJKMNP-TV-Z]{3}-[0-9A-HJKMNP-TV-Z]{4})$/i.exec(path)?.[1]?.toUpperCase() ?? null;
}

/** A code as it was typed, in the way in which labels print it: small letters are as good, I and L are read as 1, O as 0. */
export function codeTyped(text: string): string {
  const signs = text.toUpperCase().replace(/[\s-]/g, "").replace(/[IL]/g, "1").replaceAll("O", "0");
  return signs.length > 3 ? `${signs.slice(0, 3)}-${signs.slice(3)}` : signs;
}

/** Computes a digest: SHA-1 of the bytes. */
export type Digest = (bytes: Uint8Array<ArrayBuffer>) => Promise<Uint8Array>;

/** A key that follows from another and a name: UUID version 5 (RFC 9562, section 5.5), as the server makes it. */
export async function nameBased(key: string, name: string, sha1: Digest): Promise<string> {
  const own = key.replaceAll("-", "").match(/../g)!.map(pair => parseInt(pair, 16));
  const bytes = (await sha1(new Uint8Array([...own, ...new TextEncoder().encode(name.normalize("NFC"))]))).slice(0, 16);
  bytes[6] = 0x50 | (bytes[6]! & 0x0f);
  bytes[8] = 0x80 | (bytes[8]! & 0x3f);
  return keyText(bytes);
}

function keyText(bytes: Uint8Array): string {
  const hex = hexOf(bytes);
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}

/** Bytes in small hexadecimal digits. */
export function hexOf(bytes: Uint8Array): string {
  return [...bytes].map(byte => byte.toString(16).padStart(2, "0")).join("");
}
