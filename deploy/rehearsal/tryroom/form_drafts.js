/* What stands in an open form is kept by the room, so that it is there again after the command has been stopped. */
import { $, ask } from "./room_requests.js";

const AFTER_MS = 400;
let open = null;
let waiting = 0;

const send = (form, values) => ask("do", { do: "draft", form, values }).catch(() => {});

/** Fill in what was typed before a stop; from now on keep what is typed. True where something was filled in. */
export const keepDrafts = (form, fields) => {
  clearTimeout(waiting);
  open = { form, fields };
  const again = fields.filter((one) => one.fill && one.label in form.draft);
  for (const one of again) {
    one.fill(form.draft[one.label]);
  }
  return again.length > 0;
};

/** The form was sent or closed: nothing of it is kept any more. */
const endDraft = () => {
  clearTimeout(waiting);
  if (open) {
    send(open.form.id, null);
    open = null;
  }
};

const keep = async ({ form, fields }) => {
  const values = {};
  for (const one of fields) {
    if (one.fill) {
      values[one.label] = await one.value();
    }
  }
  send(form.id, values);
};

$("dialog-body").addEventListener("input", () => {
  clearTimeout(waiting);
  if (open) {
    waiting = setTimeout(keep, AFTER_MS, open);
  }
});
$("dialog").addEventListener("close", endDraft);
