/** Pixels of an embedded image by its own header. */
export interface PixelSize {
  type: 'png' | 'jpeg' | 'gif' | 'webp' | 'bmp';
  widthPx: number;
  heightPx: number;
}

/** Characters of a data URI that are decoded: a JPEG may carry large metadata in front of its size. */
const MOST_CHARACTERS = 1_400_000;

/** The size in pixels of the image in a `data:` URI; null when it is none of the known kinds. */
export function pixelSize(uri: string): PixelSize | null {
  const comma = uri.indexOf(',');
  if (comma < 0) return null;
  const bytes = /;\s*base64\s*$/i.test(uri.slice(0, comma)) ? fromBase64(uri.slice(comma + 1)) : null;
  if (!bytes || bytes.length < 12) return null;
  const size = png(bytes) ?? gif(bytes) ?? bmp(bytes) ?? webp(bytes) ?? jpeg(bytes);
  return size && size.widthPx > 0 && size.heightPx > 0 ? size : null;
}

function fromBase64(text: string): Uint8Array | null {
  const clean = text.slice(0, MOST_CHARACTERS).replace(/[^A-Za-z0-9+/]/g, '');
  try {
    return Uint8Array.from(atob(clean.slice(0, clean.length - (clean.length % 4))), (c) => c.charCodeAt(0));
  } catch {
    return null;
  }
}

function ascii(bytes: Uint8Array, at: number, text: string): boolean {
  for (let i = 0; i < text.length; i++) if (bytes[at + i] !== text.charCodeAt(i)) return false;
  return true;
}

function big16(bytes: Uint8Array, at: number): number {
  return ((bytes[at] ?? 0) << 8) | (bytes[at + 1] ?? 0);
}

function little16(bytes: Uint8Array, at: number): number {
  return (bytes[at] ?? 0) | ((bytes[at + 1] ?? 0) << 8);
}

/** PNG specification (ISO/IEC 15948) §11.2.2: IHDR comes first. */
function png(bytes: Uint8Array): PixelSize | null {
  if (!ascii(bytes, 1, 'PNG\r\n') || !ascii(bytes, 12, 'IHDR') || bytes.length < 24) return null;
  const big32 = (at: number): number => big16(bytes, at) * 65_536 + big16(bytes, at + 2);
  return { type: 'png', widthPx: big32(16), heightPx: big32(20) };
}

/** GIF89a specification, logical screen descriptor. */
function gif(bytes: Uint8Array): PixelSize | null {
  if (!ascii(bytes, 0, 'GIF8')) return null;
  return { type: 'gif', widthPx: little16(bytes, 6), heightPx: little16(bytes, 8) };
}

/** BITMAPINFOHEADER: a negative height means rows from the top. */
function bmp(bytes: Uint8Array): PixelSize | null {
  if (!ascii(bytes, 0, 'BM') || bytes.length < 26) return null;
  const little32 = (at: number): number => little16(bytes, at) | (little16(bytes, at + 2) << 16);
  return { type: 'bmp', widthPx: little32(18), heightPx: Math.abs(little32(22)) };
}

/** WebP container specification (RFC 9649): VP8X, lossless VP8L and lossy VP8 chunks. */
function webp(bytes: Uint8Array): PixelSize | null {
  if (!ascii(bytes, 0, 'RIFF') || !ascii(bytes, 8, 'WEBP') || bytes.length < 30) return null;
  if (ascii(bytes, 12, 'VP8X')) {
    const little24 = (at: number): number => little16(bytes, at) | ((bytes[at + 2] ?? 0) << 16);
    return { type: 'webp', widthPx: little24(24) + 1, heightPx: little24(27) + 1 };
  }
  if (ascii(bytes, 12, 'VP8L')) {
    const b = (i: number): number => bytes[21 + i] ?? 0;
    return {
      type: 'webp',
      widthPx: 1 + (((b(1) & 0x3f) << 8) | b(0)),
      heightPx: 1 + (((b(3) & 0x0f) << 10) | (b(2) << 2) | (b(1) >> 6)),
    };
  }
  if (!ascii(bytes, 12, 'VP8 ')) return null;
  return { type: 'webp', widthPx: little16(bytes, 26) & 0x3fff, heightPx: little16(bytes, 28) & 0x3fff };
}

/** JPEG (ISO/IEC 10918-1) §B.2.2: the frame header SOFn, found by stepping over the segments in front of it. */
function jpeg(bytes: Uint8Array): PixelSize | null {
  if (bytes[0] !== 0xff || bytes[1] !== 0xd8) return null;
  let at = 2;
  while (at + 9 < bytes.length) {
    if (bytes[at] !== 0xff) return null;
    const marker = bytes[at + 1]!;
    if (marker === 0xff) {
      at++;
      continue;
    }
    const frame = marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc;
    if (frame) return { type: 'jpeg', heightPx: big16(bytes, at + 5), widthPx: big16(bytes, at + 7) };
    at += marker === 0x01 || (marker >= 0xd0 && marker <= 0xd8) ? 2 : 2 + Math.max(2, big16(bytes, at + 2));
  }
  return null;
}
