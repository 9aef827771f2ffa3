// Thinned lines as the desk sends them: place in tenths of a column and tenths of a unit by turns; no value is a gap.

export const DASHES = ["", "8 3", "3 3", "10 3 2 3", "14 4", "5 2 1.5 2", "4 6", "14 3 2 3 2 3"];
export const FAILED = "1 4";

// Hours and minutes, as sheets and findings tell them: 54 min, 2 h, 1 h 46 min.
export const hoursWords = (hours) => {
  const minutes = Math.round(60 * hours);
  const [h, min] = [Math.floor(minutes / 60), minutes % 60];
  return h && min ? `${h} h ${min} min` : h ? `${h} h` : `${min} min`;
};

const shortOf = (name) => name.match(/\d+/g)?.join("") ?? name.slice(0, 4);
// The digits of a name where they are its own.
export const shorts = (names) =>
  names.map((name) => (names.filter((other) => shortOf(other) === shortOf(name)).length > 1 ? name.slice(0, 8) : shortOf(name)));

const hourOf = (sent, flat, i) => sent.from + ((sent.to - sent.from) * flat[i]) / (10 * sent.columns);

// One line as pieces between gaps; what comes after its failure apart. `scale` has x, y and the window from, to.
export const pieces = (sent, flat, scale, failed_h = null) => {
  const [good, bad] = [[], []];
  let [path, pathIsBad, points, last] = ["", false, 0, null];
  const end = () => {
    if (path) (pathIsBad ? bad : good).push(path);
    path = "";
  };
  for (let i = 0; i < flat.length; i += 2) {
    if (flat[i + 1] === null) {
      end();
      continue;
    }
    const h = hourOf(sent, flat, i);
    const isBad = failed_h !== null && h >= failed_h;
    const at = `${scale.x(h).toFixed(1)},${scale.y(flat[i + 1] / 10).toFixed(1)}`;
    if (isBad !== pathIsBad && path) {
      path += `L${at}`;
      end();
    }
    pathIsBad = isBad;
    path += path ? `L${at}` : `M${at}`;
    points += 1;
    if (h >= scale.from && h <= scale.to) last = [h, flat[i + 1] / 10];
  }
  end();
  return { good: good.join(""), bad: bad.join(""), points, last };
};

// The value nearest to a time; `null` where nothing is near.
export const valueAt = (sent, flat, h) => {
  let [best, distance] = [null, Infinity];
  for (let i = 0; i < flat.length; i += 2) {
    if (flat[i + 1] === null) continue;
    const away = Math.abs(hourOf(sent, flat, i) - h);
    if (away < distance) [best, distance] = [flat[i + 1] / 10, away];
  }
  return distance < (3 * (sent.to - sent.from)) / sent.columns + 0.02 ? best : null;
};

// Every value in a window, with its time.
export const within = function* (sent, flat, from, to) {
  for (let i = 0; i < flat.length; i += 2) {
    const h = hourOf(sent, flat, i);
    if (flat[i + 1] !== null && h >= from && h <= to) yield [h, flat[i + 1] / 10];
  }
};

// Places along a line, each as near to its own as the others leave room; those that push each other aside stay in the
// middle of where they would be.
export const spread = (wanted, low, high, most) => {
  const step = Math.min(most, (high - low) / Math.max(1, wanted.length - 1));
  const up = onwards(wanted, low, high, step);
  const down = onwards(wanted.map((at) => -at).reverse(), -high, -low, step).reverse();
  return up.map((at, i) => (at - down[i]) / 2);
};
const onwards = (wanted, low, high, step) => {
  const places = [...wanted];
  for (let i = 0; i < places.length; i += 1) places[i] = Math.max(low, places[i], i ? places[i - 1] + step : -Infinity);
  for (let i = places.length - 1; i >= 0; i -= 1) places[i] = Math.min(places[i], i + 1 < places.length ? places[i + 1] - step : high);
  return places;
};
