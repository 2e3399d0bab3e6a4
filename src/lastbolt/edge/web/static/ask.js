// Questions to the server; a refusal comes back as a problem: what, and what to do.

export class Refused extends Error {
  constructor(problem, conflict) {
    super(`${problem.what} ${problem.do}`);
    this.conflict = conflict;
  }
}

async function answer(response) {
  let body = null;
  try {
    body = await response.json();
  } catch {
    throw new Refused({ what: "The server gave no answer that can be read.", do: "Load the page again." }, false);
  }
  if (body && body.problem) throw new Refused(body.problem, response.status === 409);
  return body;
}

async function fetched(path, settings) {
  try {
    return await fetch(path, settings);
  } catch {
    const what = "lastbolt does not answer any more; what was saved is on disk.";
    throw new Refused({ what, do: "Start lastbolt correct again, and open the new address." }, false);
  }
}

export async function ask(path, query = {}) {
  const asked = new URLSearchParams(query).toString();
  return answer(await fetched(`api/${path}${asked ? `?${asked}` : ""}`, {}));
}

export async function tell(path, body) {
  const settings = { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) };
  return answer(await fetched(`api/${path}`, settings));
}
