package start

import (
	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/score"
	"loosebox/tui/entry"
	"loosebox/tui/screen/form"
)

// maxFigure is the longest text of a temperature or humidity, in characters.
const maxFigure = 12

// addSurroundings makes the lines for air, humidity and wet-bulb globe, which are
// asked after work and in hot weather.
func (s *screen) addSurroundings(o entry.Options) {
	prefer := s.degrees()
	check := func(text string) error {
		_, err := exam.ReadAir(text, prefer)
		return err
	}
	s.air = form.NewText("air", "", maxFigure, check, o).Hint(func(string) string {
		return "air temperature, 31C or 88F (without a unit: " + string(prefer) + "); may stay empty"
	})
	s.humid = form.NewText("humidity", "", maxFigure, func(text string) error {
		_, err := exam.ReadHumidity(text)
		return err
	}, o).Hint(func(string) string { return s.heat() })
	s.globe = form.NewText("wet-bulb globe", "", maxFigure, check, o).Hint(func(string) string { return s.wetBulb() })
}

// degrees is the unit in which a bare temperature is taken.
func (s *screen) degrees() notation.Unit {
	if u, ok := s.Deps.Settings.Units[notation.Celsius]; ok {
		return u
	}
	return notation.Celsius
}

// unasked hides the lines where neither heat nor work was marked.
func (s *screen) unasked() bool {
	for _, key := range s.states.Set() {
		if state := exam.State(key); state == exam.StateWorked || state == exam.StateHot {
			return false
		}
	}
	return true
}

// context is what was answered of the last half hour, so far; what cannot be
// read yet is left out.
func (s *screen) context() exam.Context {
	var c exam.Context
	for _, key := range s.states.Set() {
		c.States = append(c.States, exam.State(key))
	}
	if s.unasked() {
		return c
	}
	c.Air, _ = exam.ReadAir(s.air.Content(), s.degrees())
	c.Humid, _ = exam.ReadHumidity(s.humid.Content())
	c.Globe, _ = exam.ReadAir(s.globe.Content(), s.degrees())
	return c
}

// repeat says what the states marked do to the measures.
func (s *screen) repeat() string {
	if text := score.Repeat(s.context()); text != "" {
		return text
	}
	return "space marks; no mark means that nobody asked"
}

// heat says what air and humidity come to, with its source.
func (s *screen) heat() string {
	c := s.context()
	if c.Air == nil || c.Humid == nil {
		return "relative humidity in %; with the air it gives the heat index"
	}
	h, err := score.HeatSum(*c.Air, *c.Humid)
	if err != nil {
		return err.Error()
	}
	return "heat index " + h.Words + " (" + h.Evidence.String() + ": " + h.Source + ")"
}

func (s *screen) wetBulb() string {
	c := s.context()
	if c.Globe == nil {
		return "only if the yard has a meter; may stay empty"
	}
	r, err := score.WetBulbGlobe(*c.Globe)
	if err != nil {
		return err.Error()
	}
	return r.Words + " (" + r.Evidence.String() + ": " + r.Source + ")"
}
