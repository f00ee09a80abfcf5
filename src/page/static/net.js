// Asking the server, and hearing its news.

/** What went wrong, in the server's words. */
export class Refused extends Error {
  constructor(status, told) {
    super(told?.error ?? `the server says ${status}`);
    this.status = status;
    this.more = told?.more;
  }
}

async function answer(response) {
  const text = await response.text();
  let told;
  try {
    told = JSON.parse(text);
  } catch {
    told = undefined;
  }
  if (!response.ok) throw new Refused(response.status, told);
  return told;
}

/** Asks for something. */
export async function ask(path) {
  return answer(await fetch(path, { cache: "no-store" }));
}

/** Asks for something to be done. */
export async function tell(path, value = {}, signal = undefined) {
  return answer(await fetch(path, {
    method: "POST",
    headers: { "X-Grainrow": "1", "Content-Type": "application/json" },
    body: JSON.stringify(value),
    signal,
  }));
}

/** Sends a file as it is. */
export async function send(path, file) {
  return answer(await fetch(path, {
    method: "PUT",
    headers: { "X-Grainrow": "1", "Content-Type": "application/octet-stream" },
    body: file,
  }));
}

const NAMES = ["hello", "file", "faults", "plan", "planning", "progress", "failed", "steps",
  "shop", "outside", "opened", "devices"];

/** Listens to the server's news until it ends, and begins again when it can. */
export function listen(heard, reached) {
  const news = new EventSource("/api/events");
  for (const name of NAMES) {
    news.addEventListener(name, (event) => {
      reached(true);
      heard(name, JSON.parse(event.data));
    });
  }
  news.onerror = () => {
    reached(false);
    if (news.readyState === EventSource.CLOSED) {
      setTimeout(() => {
        // Thrown out, or the server was started anew: the page says so when it is asked for.
        ask("/api/state").then(() => listen(heard, reached), (why) => {
          if (why.status === 403) location.reload();
          else listen(heard, reached);
        });
      }, 1000);
    }
  };
}
