// One choice of units for all pages that are open, in this window and others: each kernel has one
// of these, and they tell each other what was chosen, and when. What was chosen last counts.
function initialize({ model }) {
  const others = new BroadcastChannel("fireheat-units");
  const tell = () => others.postMessage(model.get("said"));
  others.onmessage = ({ data }) => {
    if (data === null) tell(); // one that has just come asks
    else if (data[1] > model.get("said")[1]) {
      model.set("said", data);
      model.save_changes();
    }
  };
  model.on("change:said", tell);
  others.postMessage(null);
  return () => others.close();
}

export default { initialize };
