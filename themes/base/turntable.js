/* A can sleeve turned by the four pictures of it. Seen from far away each column of a picture shows
   one angle of the cloth, so a view in between is put together from columns of the two sides beside
   it, each in the light of where it now stands. No pixel is read back: a page opened from a disk
   may not do that. */
"use strict";

const QUARTER = Math.PI / 2;

/* The value of a turntable's list at an angle; its ends are the two limbs. */
function atAngle(list, angle) {
  const place = ((angle + QUARTER) / Math.PI) * (list.length - 1);
  const low = Math.min(Math.max(Math.floor(place), 0), list.length - 2);
  return list[low] + (list[low + 1] - list[low]) * (place - low);
}

function blankCanvas(width, height) {
  const canvas = document.createElement("canvas");
  canvas.width = width;
  canvas.height = height;
  return canvas;
}

/* A colour for each angle, from limb to limb; `shift` is where the canvas begins, px. */
function limbToLimb(pen, turn, colour, shift) {
  const from = turn.middle - turn.radius - shift;
  const ramp = pen.createLinearGradient(from, 0, from + 2 * turn.radius, 0);
  turn.light.forEach((light, i) => {
    const angle = (i / (turn.light.length - 1)) * Math.PI - QUARTER;
    ramp.addColorStop((1 + Math.sin(angle)) / 2, colour(light, turn.sheen[i]));
  });
  return ramp;
}

function fillWith(pen, how, ramp) {
  pen.globalCompositeOperation = how;
  pen.fillStyle = ramp;
  pen.fillRect(0, 0, pen.canvas.width, pen.canvas.height);
  pen.globalCompositeOperation = "source-over";
}

const grey = (share) => `rgb(${[0, 0, 0].map(() => Math.round(share * 255)).join(",")})`;

/* A side's cloth in even light, half of it and half of that as wide as well: where it turns away
   many columns become one. */
function evenly(turn, still, left, wide) {
  const even = blankCanvas(wide, turn.height);
  const pen = even.getContext("2d");
  pen.drawImage(still, -left, 0);
  fillWith(pen, "difference", limbToLimb(pen, turn, (light, sheen) => grey(sheen), left));
  const more = blankCanvas(wide, turn.height);
  const second = more.getContext("2d");
  second.drawImage(even, 0, 0);
  const missing = (light) => `rgba(0,0,0,${Math.min(1, 1 / light - 1).toFixed(4)})`;
  fillWith(second, "destination-in", limbToLimb(second, turn, missing, left));
  pen.globalCompositeOperation = "lighter";
  pen.drawImage(more, 0, 0);
  const sizes = [even];
  for (let w = wide / 2; sizes.length < 4; w /= 2) {
    const half = blankCanvas(w, turn.height);
    half.getContext("2d").drawImage(sizes[sizes.length - 1], 0, 0, w, turn.height);
    sizes.push(half);
  }
  return sizes;
}

/* What each column of a view looks at, whatever is turned to it. */
function columnsOf(turn) {
  const columns = [];
  const edge = (x) => Math.asin(Math.min(1, Math.max(-1, (x - turn.middle) / turn.radius)));
  const last = turn.middle + turn.radius;
  for (let x = turn.middle - turn.radius, next; x < last; x = next) {
    next = Math.min(Math.floor(x) + 1, last); /* less than a pixel at either limb */
    const angle = (edge(x) + edge(next)) / 2;
    const top = atAngle(turn.top, angle);
    const first = atAngle(turn.first, angle);
    const low = atAngle(turn.low, angle);
    const brim = atAngle(turn.brim, angle);
    columns.push({ x, wide: next - x, angle, half: (edge(next) - edge(x)) / 2, top, first, low, brim });
  }
  return columns;
}

/* `turn` as views/hand/turntable.py gives it, `stills` the pictures of the four sides, a quarter
   each, all there. Draws on `canvas`; null where this browser cannot. */
function turntable(turn, stills, canvas) {
  canvas.width = turn.width;
  canvas.height = turn.height;
  const pen = canvas.getContext("2d");
  if (!pen) return null;
  pen.imageSmoothingQuality = "high";
  const left = Math.floor(turn.middle - turn.radius);
  const wide = Math.ceil((2 * turn.radius + 1) / 8) * 8;
  const sides = stills.map((still) => evenly(turn, still, left, wide));
  const columns = columnsOf(turn);
  const wall = new Path2D();
  columns.forEach((c) => wall.lineTo(c.x + 0.5, c.first));
  columns.slice().reverse().forEach((c) => wall.lineTo(c.x + 0.5, c.low));
  wall.closePath();
  const shade = limbToLimb(pen, turn, (light) => grey(light), 0);
  const mirrored = limbToLimb(pen, turn, (light, sheen) => grey(sheen), 0);

  function column(c, angle) {
    const seen = c.angle + angle;
    /* The side that is nearest to the view shows it as it is, unless too narrow. */
    let quarters = Math.round(angle / QUARTER);
    let there = seen - quarters * QUARTER;
    if (Math.abs(there) > 1.45 || Math.cos(there) < 0.8 * Math.cos(c.angle)) {
      quarters = Math.round(seen / QUARTER);
      there = seen - quarters * QUARTER;
    }
    const side = ((quarters % 4) + 4) % 4;
    const from = turn.middle + turn.radius * Math.sin(there - c.half) - left;
    const across = turn.middle + turn.radius * Math.sin(there + c.half) - left - from;
    const size = Math.min(3, Math.max(0, Math.round(Math.log2(across))));
    const [picture, scale] = [sides[side][size], 2 ** -size];
    const top = atAngle(turn.top, there);
    const down = top - c.top;
    const first = c.first;
    const end = Math.ceil(c.low);
    const bend = Math.floor(c.low) - turn.sole;
    const draw = (y, high, toY, toHigh) =>
      pen.drawImage(picture, from * scale, y, across * scale, high, c.x, toY, c.wide, toHigh);
    /* The rolled edge has a light of its own; both its ends are mixed with what is beside it. */
    const brim = c.brim;
    if (first > brim) {
      const row = (top + atAngle(turn.brim, there) - 1) / 2;
      pen.drawImage(stills[side], from + left, row, across, 1, c.x, brim, c.wide, first + 1 - brim);
    }
    draw(first + down, bend - first, first, bend - first);
    draw(bend + down, atAngle(turn.low, there) + (end - c.low) - bend - down, bend, end - bend);
  }

  /* In front of the wall the seam is as wide wherever it stands: cut from the side it is in the
     middle of. Between these sines it goes behind the limb. */
  function beads(angle) {
    [1, -1].forEach((limb) => {
      const at = limb * QUARTER - angle;
      const past = (Math.abs(Math.sin(at)) - 0.96) / (0.996 - 0.96);
      if (Math.cos(at) <= 0 || past >= 1) return;
      const run = Math.max(0, past);
      const half = turn.bead * (1 - run * run * (3 - 2 * run));
      const x = turn.middle + turn.radius * Math.sin(at);
      const stands = Math.asin(Math.sin(at));
      const [top, low] = [atAngle(turn.top, stands), atAngle(turn.low, stands)];
      const [from, to] = [atAngle(turn.top, 0), atAngle(turn.low, 0)];
      const side = stills[limb > 0 ? 1 : 3];
      const wide = 2 * half + 1; /* with the pixels that are partly of it */
      const part = [turn.middle - wide / 2, from - 1, wide, to - from + 1];
      pen.drawImage(side, ...part, x - wide / 2, top - 1, wide, low - top + 1);
    });
  }

  /* A bound seam stands out at a limb: cut from the front's picture, as far as it is seen. */
  function fins(angle) {
    const edge = turn.radius - turn.edge;
    const hidden = (turn.radius + turn.fin) * (1 - Math.abs(Math.cos(angle)));
    if (hidden >= turn.fin) return;
    [1, -1].forEach((limb) => {
      const room = Math.ceil(turn.fin * 1.5 + turn.radius - edge);
      const x = limb > 0 ? turn.middle + edge : turn.middle - edge - room;
      pen.drawImage(stills[0], x + limb * hidden, 0, room, turn.height, x, 0, room, turn.height);
    });
  }

  return function draw(angle) {
    pen.drawImage(stills[turn.fin ? 1 : 0], 0, 0); /* no seam stands out at its limbs, */
    const part = [turn.middle - turn.radius / 3, 0, (turn.radius * 2) / 3, turn.height];
    if (turn.fin) pen.drawImage(stills[0], ...part, ...part); /* nor one over the front's rim */
    if (turn.fin) fins(angle);
    columns.forEach((c) => column(c, angle));
    pen.save();
    pen.clip(wall);
    fillWith(pen, "multiply", shade);
    fillWith(pen, "lighter", mirrored);
    pen.restore();
    if (turn.fin) beads(angle);
  };
}
