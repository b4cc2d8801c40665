// The page in a browser: questions go to the server that sent it, under the token in its address.
import { mount } from "./explore.js";

mount(document.querySelector("main"), async (kind, body) => {
  let answer;
  try {
    answer = await fetch(`ask/${kind}`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });
  } catch {
    throw new Error("the server is gone: start `wheelrate open` again");
  }
  if (!answer.ok) throw new Error(`the server refused: ${await answer.text()}`);
  const said = await answer.json();
  if (said.name) document.title = `${said.name}: what if`;
  return said;
});
