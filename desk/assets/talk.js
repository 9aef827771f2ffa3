// Talking to the desk: every act carries the page's token; what the desk refuses becomes words.

const meta = (name) => document.querySelector(`meta[name="${name}"]`)?.content ?? "";

export const mayAct = meta("desk-right") === "act";

export class Refused extends Error {
  constructor(words, status) {
    super(words);
    this.status = status;
  }
}

const words = async (response) => {
  const page = new DOMParser().parseFromString(await response.text(), "text/html");
  return page.querySelector("#says")?.textContent ?? `The desk answered with ${response.status}.`;
};

export const talk = async (method, address, { body, headers = {}, signal } = {}) => {
  const isJson = body !== undefined && typeof body === "object" && !(body instanceof Blob);
  let response;
  try {
    response = await fetch(address, {
      method,
      signal,
      headers: {
        "x-desk-token": meta("desk-token"),
        ...(isJson ? { "content-type": "application/json" } : {}),
        ...headers,
      },
      body: isJson ? JSON.stringify(body) : body,
    });
  } catch (error) {
    if (error.name === "AbortError") throw error;
    throw new Refused("The desk does not answer. What you typed is still here; try again when it does.", 0);
  }
  if (!response.ok) throw new Refused(await words(response), response.status);
  return response;
};

document.querySelector("#leave")?.addEventListener("click", async () => {
  await fetch("/leave", { method: "POST", headers: { "x-desk-token": meta("desk-token") } });
  location.href = "/enter";
});
