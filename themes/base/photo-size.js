/* How many pixels a picture file has, upright, told by its first bytes: before anything of it is
   decoded, and so whatever the browser makes of it. */
const photoSize = (() => {
  const text = (view, at, long) => {
    let out = "";
    for (let i = 0; i < long; i += 1) out += String.fromCharCode(view.getUint8(at + i));
    return out;
  };

  /* A TIFF's first folder (EXIF is one): width, height and orientation, as far as they are there. */
  function tiff(view, start) {
    const little = view.getUint16(start) === 0x4949;
    const told = { orientation: 1 };
    const folder = start + view.getUint32(start + 4, little);
    const entries = view.getUint16(folder, little);
    for (let i = 0; i < entries; i += 1) {
      const at = folder + 2 + 12 * i;
      const name = { 0x100: "width", 0x101: "height", 0x112: "orientation" }[view.getUint16(at, little)];
      const short = view.getUint16(at + 2, little) === 3;
      if (name) told[name] = short ? view.getUint16(at + 8, little) : view.getUint32(at + 8, little);
    }
    return told;
  }

  /* EXIF that cannot be read turns nothing. */
  function orientationIn(view, start) {
    try {
      return tiff(view, start).orientation;
    } catch (error) {
      return 1;
    }
  }

  function jpeg(view) {
    let orientation = 0;
    for (let at = 2; ; ) {
      while (view.getUint8(at) !== 0xff) at += 1;
      while (view.getUint8(at) === 0xff) at += 1;
      const marker = view.getUint8(at);
      at += 1;
      if (marker === 0x01 || (marker >= 0xd0 && marker <= 0xd8)) continue;
      if (marker === 0xd9 || marker === 0xda) return null; /* no size before its end or its codes */
      if (marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker)) {
        const [height, width] = [view.getUint16(at + 3), view.getUint16(at + 5)];
        return { kind: "JPEG", width, height, orientation: orientation || 1 };
      }
      if (marker === 0xe1 && !orientation && text(view, at + 2, 4) === "Exif") {
        orientation = orientationIn(view, at + 8);
      }
      at += view.getUint16(at);
    }
  }

  function png(view) {
    const told = { kind: "PNG", width: view.getUint32(16), height: view.getUint32(20), orientation: 1 };
    for (let at = 8; at + 12 <= view.byteLength; at += view.getUint32(at) + 12) {
      const name = text(view, at + 4, 4);
      if (name === "eXIf") told.orientation = orientationIn(view, at + 8);
      if (name === "IDAT" || name === "eXIf") break;
    }
    return told;
  }

  function webp(view) {
    const told = { kind: "WebP", orientation: 1 };
    for (let at = 12; at + 8 <= view.byteLength; ) {
      const name = text(view, at, 4);
      const three = (i) => view.getUint16(at + i, true) + (view.getUint8(at + i + 2) << 16);
      if (name === "VP8X") [told.width, told.height] = [three(12) + 1, three(15) + 1];
      else if (name === "VP8L" && !told.width) {
        const bits = view.getUint32(at + 9, true);
        [told.width, told.height] = [(bits & 0x3fff) + 1, ((bits >> 14) & 0x3fff) + 1];
      } else if (name === "VP8 " && !told.width) {
        told.width = view.getUint16(at + 14, true) & 0x3fff;
        told.height = view.getUint16(at + 16, true) & 0x3fff;
      } else if (name === "EXIF") {
        const named = text(view, at + 8, 4) === "Exif" ? 6 : 0;
        told.orientation = orientationIn(view, at + 8 + named);
      }
      const long = view.getUint32(at + 4, true);
      at += 8 + long + (long % 2);
    }
    return told.width ? told : null;
  }

  /* The boxes of an ISO media file (ISO 14496-12) between two places: name, first byte, end. */
  function boxes(view, from, end) {
    const found = [];
    for (let at = from; at + 8 <= end; ) {
      let long = view.getUint32(at);
      let head = 8;
      if (long === 1) {
        long = view.getUint32(at + 8) * 2 ** 32 + view.getUint32(at + 12);
        head = 16;
      }
      if (long === 0) long = end - at;
      if (long < head) break;
      found.push({ name: text(view, at + 4, 4), at: at + head, end: at + long });
      at += long;
    }
    return found;
  }

  /* HEIC and AVIF (ISO 23008-12): the size and the turn of the picture that counts. */
  function heif(view, kind) {
    const named = (list, name) => list.find((box) => box.name === name);
    const meta = named(boxes(view, 0, view.byteLength), "meta");
    if (!meta || meta.end > view.byteLength) throw new RangeError("more");
    const inside = boxes(view, meta.at + 4, meta.end);
    const [pitm, iprp] = [named(inside, "pitm"), named(inside, "iprp")];
    if (!pitm || !iprp) return null;
    const wide = view.getUint8(pitm.at) > 0;
    const first = wide ? view.getUint32(pitm.at + 4) : view.getUint16(pitm.at + 4);
    const parts = boxes(view, iprp.at, iprp.end);
    const kinds = boxes(view, named(parts, "ipco").at, named(parts, "ipco").end);
    const told = { kind, orientation: 1 };
    for (const ipma of parts.filter((box) => box.name === "ipma")) {
      const large = view.getUint8(ipma.at) > 0;
      const long = view.getUint8(ipma.at + 3) % 2 > 0;
      let at = ipma.at + 8;
      for (let items = view.getUint32(ipma.at + 4); items > 0; items -= 1) {
        const item = large ? view.getUint32(at) : view.getUint16(at);
        at += large ? 4 : 2;
        let count = view.getUint8(at);
        for (at += 1; count > 0; count -= 1) {
          const number = long ? view.getUint16(at) & 0x7fff : view.getUint8(at) & 0x7f;
          at += long ? 2 : 1;
          const box = kinds[number - 1];
          if (item !== first || !box) continue;
          if (box.name === "ispe") {
            [told.width, told.height] = [view.getUint32(box.at + 4), view.getUint32(box.at + 8)];
          }
          if (box.name === "irot" && view.getUint8(box.at) % 2) told.orientation = 6;
        }
      }
    }
    return told.width ? told : null;
  }

  const HEIF = { heic: "HEIC", heix: "HEIC", hevc: "HEIC", heim: "HEIC", heis: "HEIC", mif1: "HEIC",
    msf1: "HEIC", avif: "AVIF", avis: "AVIF" };

  function kindOf(view) {
    const head = text(view, 0, Math.min(16, view.byteLength));
    if (head.startsWith("\xff\xd8\xff")) return jpeg;
    if (head.startsWith("\x89PNG\r\n\x1a\n")) return png;
    if (head.startsWith("RIFF") && head.slice(8, 12) === "WEBP") return webp;
    if (head.startsWith("GIF8")) {
      return () => ({ kind: "GIF", width: view.getUint16(6, true), height: view.getUint16(8, true), orientation: 1 });
    }
    if (head.startsWith("II*\0") || head.startsWith("MM\0*")) {
      return () => Object.assign({ kind: "TIFF" }, tiff(view, 0));
    }
    const brand = head.slice(4, 8) === "ftyp" && HEIF[head.slice(8, 12)];
    return brand ? () => heif(view, brand) : null;
  }

  /* {kind, width, height} of the upright picture; without a size where the file tells none; null
     where it is no picture of a kind we print. */
  return async function photoSize(file) {
    for (const long of [1 << 18, Infinity]) {
      const view = new DataView(await file.slice(0, Math.min(long, file.size)).arrayBuffer());
      const read = view.byteLength >= 12 ? kindOf(view) : null;
      if (!read) return null;
      let told = null;
      try {
        told = read(view);
      } catch (error) {
        if (!(error instanceof RangeError)) throw error;
        if (long < file.size) continue; /* what tells it lies farther in */
      }
      if (!told || !told.width || !told.height) return { kind: "" };
      const lies = told.orientation >= 5 && told.orientation <= 8;
      const [width, height] = lies ? [told.height, told.width] : [told.width, told.height];
      return { kind: told.kind, width, height };
    }
    return null;
  };
})();
