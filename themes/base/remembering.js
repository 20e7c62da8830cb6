/* What this device remembers; a browser that keeps nothing forgets it, and all else works. */
"use strict";

function recall(key) {
  try {
    return JSON.parse(localStorage.getItem(key));
  } catch (error) {
    return null;
  }
}

/* Keeps a value, or, where it is null, forgets it; whether that could be done. */
function remember(key, value) {
  try {
    if (value === null) localStorage.removeItem(key);
    else localStorage.setItem(key, JSON.stringify(value));
    return true;
  } catch (error) {
    return false;
  }
}
