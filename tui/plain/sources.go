package plain

import (
	"loosebox/exam/explain"
	"loosebox/exam/procedure/order"
)

// sources says where the numbers of what is asked come from.
func (w *work) sources() []explain.Section {
	switch {
	case w.script != nil:
		return w.script.Sources()
	case w.page:
		return w.Deps.PageSources(w.at.Judged, w.Deps.Page(w.at.Judged, "", w.by, w.Deps.Settings, w.Deps.Now()))
	}
	return append(order.DangerSources(), order.WatchSources()[0])
}

// saySources writes them, each under its heading.
func (w *work) saySources() {
	for _, part := range w.sources() {
		w.line("%s:", part.Head)
		for _, l := range part.Lines {
			w.line("%s", l)
		}
	}
}
