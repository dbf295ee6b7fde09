/** Asks the program on this machine; what it refuses comes as a `Problem` in its own words. */

/** What went wrong: `what` in a sentence, `details` a list of sentences, `status` 0 without an answer. */
export class Problem extends Error {
  constructor(what, details = [], status = 0) {
    super(what);
    this.name = "Problem";
    this.what = what;
    this.details = details;
    this.status = status;
  }
}

const GONE =
  "The program on this machine does not answer. Start it again (namebatch serve), then reload this page; " +
  "everything shown as kept is kept.";

export const get = (path, options) => ask("GET", path, undefined, options);
export const post = (path, body, options) => ask("POST", path, body, options);
export const put = (path, body, options) => ask("PUT", path, body, options);
export const patch = (path, body, options) => ask("PATCH", path, body, options);
export const remove = (path, options) => ask("DELETE", path, undefined, options);

/** A form to upload: {name: string | File | null}; nulls are left out. */
export function form(parts) {
  const data = new FormData();
  for (const [name, value] of Object.entries(parts)) {
    if (value !== null && value !== undefined) data.append(name, value);
  }
  return data;
}

/** True for a request that was called off through its `signal`: nothing to tell anyone. */
export const calledOff = (error) => error instanceof DOMException && error.name === "AbortError";

async function ask(method, path, body, options = {}) {
  const sent = token();
  let response = await send(method, path, body, options);
  // a program that was started again has another token; a page that stayed open learns it
  if (response.status === 403 && method !== "GET" && (await renewed()) !== sent) {
    response = await send(method, path, body, options);
  }
  if (response.status === 204) return null;
  const answer = await read(response);
  if (response.ok) return answer;
  throw new Problem(answer?.what ?? refused(response.status), answer?.details ?? [], response.status);
}

async function send(method, path, body, { signal } = {}) {
  const headers = { Accept: "application/json" };
  if (method !== "GET") headers["X-Namebatch-Token"] = token();
  if (body !== undefined && !(body instanceof FormData)) {
    headers["Content-Type"] = "application/json";
    body = JSON.stringify(body);
  }
  try {
    return await fetch(path, { method, headers, body, signal, credentials: "same-origin" });
  } catch (error) {
    if (calledOff(error)) throw error;
    throw new Problem(GONE);
  }
}

async function read(response) {
  const json = (response.headers.get("Content-Type") ?? "").includes("json");
  try {
    return json ? await response.json() : await response.text();
  } catch {
    return null;
  }
}

function refused(status) {
  if (status === 403) return "This page is from an earlier start of the program. Reload it.";
  if (status === 413) return "That is larger than this page takes. Send a smaller file.";
  return `The program could not do that (${status}). Its window on this machine says why.`;
}

const meta = () => document.querySelector('meta[name="namebatch-token"]');
const token = () => meta()?.content ?? "";

async function renewed() {
  const page = await (await send("GET", "/")).text();
  const found = /name="namebatch-token" content="([^"]+)"/.exec(page);
  if (found && meta()) meta().content = found[1];
  return token();
}
