// Asking the server: JSON in, JSON out; an answer that is an error is thrown with what it says.

export class Refused extends Error {
  constructor(status, answer) {
    super(answer.error || `the server answered ${status}`);
    this.status = status;
    this.answer = answer;
  }
}

export async function ask(name, body = {}, signal = undefined) {
  const response = await fetch(`/api/${name}`, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(body),
    signal,
  });
  const answer = await response.json().catch(() => ({}));
  if (!response.ok) throw new Refused(response.status, answer);
  return answer;
}

/** The PDF of a job, as a blob. */
export async function askPdf(body, signal) {
  const response = await fetch("/api/print", {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(body),
    signal,
  });
  if (!response.ok) throw new Refused(response.status, await response.json().catch(() => ({})));
  return response.blob();
}
