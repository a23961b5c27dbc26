package entry

import (
	"fmt"
	"strconv"

	"loosebox/exam/notation"
	"loosebox/exam/tap"
	"loosebox/tui/layout"
)

func (e *ear) view(size layout.Size) []string {
	t := e.o.Theme
	said := sentence(t, e.said, size.W)
	room := layout.Size{W: size.W, H: size.H - len(said)}
	var lines []string
	switch e.stage {
	case earChoose:
		lines = e.viewChoose(room)
	case earReady:
		lines = append(layout.Wrap(e.firstBeat(), size.W), fmt.Sprintf("space starts the %d s", e.window))
	case earRun:
		lines = large(t, strconv.Itoa(e.shown), fmt.Sprintf("s of %d", e.window), size.W, room.H-2)
		lines = append(lines, layout.Wrap("count; the bell ends it", size.W)...)
	case earType:
		lines = e.viewType(size.W)
	case earRead:
		return fit(append([]string{"a rate from a monitor"}, e.number.View(layout.Size{W: size.W, H: size.H - 1})...), size)
	}
	return fit(append(fit(lines, room), said...), size)
}

// firstBeat settles whether the first beat is zero or one, before the clock runs.
func (e *ear) firstBeat() string {
	if e.what == tap.Breath {
		return "Start as a breath begins. That breath is zero; the next one is one."
	}
	return tap.FirstBeat
}

func (e *ear) viewChoose(room layout.Size) []string {
	t := e.o.Theme
	lines := layout.Wrap("Timed count: how long?", room.W)
	r, err := tap.Counted(e.what, 0, 60, false)
	var source []string
	if err == nil {
		source = words(t, "timed count: "+r.Source, room.W)
	}
	list := e.list.view(t, layout.Size{W: room.W, H: room.H - len(lines)})
	lines = append(lines, list...)
	if len(lines)+len(source) <= room.H {
		lines = append(lines, source...)
	}
	return lines
}

func (e *ear) viewType(width int) []string {
	t := e.o.Theme
	noun := "beats"
	if e.what == tap.Breath {
		noun = "breaths"
	}
	lines := []string{
		fmt.Sprintf("time: how many %s in %d s?", noun, e.window),
		t.Sign.Cursor + " " + t.Strong.Render(e.line.text) + "_",
	}
	if r, err := e.counted(); err == nil {
		text := fmt.Sprintf("= %s /min, %s", notation.FormatNumber(r.RatePerMin, 1), r.Coarse)
		lines = append(lines, layout.Wrap(text, width)...)
	} else {
		lines = append(lines, words(t, "the first one was zero", width)...)
	}
	return lines
}
