package settings

import (
	"cmp"
	"slices"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/screen/form"
)

// common is a row of the practice that is typed.
func (s *screen) common(key exam.SettingKey, w *written) row {
	if w.check == nil && key != exam.SettingLogo {
		w.check = func(text string) error { _, err := key.Read(text); return err }
	}
	return row{label: key.Called(), key: key, text: w}
}

// head is a row of the letterhead of the practice.
func (s *screen) head(key exam.SettingKey, text, hint string) row {
	w := &written{text: notation.CleanLine(text, 0), hint: hint, most: maxHead}
	if w.shown = w.text; w.shown == "" {
		w.shown = "not set"
	}
	return s.common(key, w)
}

// logo is the row of the picture, of which the file is typed.
func (s *screen) logo() row {
	w := &written{hint: "type the file of a PNG or JPEG picture, with its folder. It is copied into the record; empty: no logo", most: maxHead, shown: "not set"}
	if p := s.now.Practice.Picture; len(p) > 0 {
		w.shown = exam.Setting{Key: exam.SettingLogo, Value: p}.Shown()
	}
	return s.common(exam.SettingLogo, w)
}

// picked is a row of the practice with choices.
func (s *screen) picked(key exam.SettingKey, chosen string, choices ...exam.Choice) row {
	return row{label: key.Called(), key: key, choice: form.NewOneOf(key.Called(), choices, chosen, s.options())}
}

func (s *screen) paper() row {
	return s.picked(exam.SettingPaper, cmp.Or(s.now.Practice.Paper, "A4"),
		exam.Choice{Key: "A4", Words: "A4", Hint: "210 x 297 mm"}, exam.Choice{Key: "Letter", Words: "Letter", Hint: "8.5 x 11 in, as in North America"})
}

// sent says whether rehearsals go to the other laptops.
func (s *screen) sent() row {
	chosen := goOut
	if s.now.NoRehearsals {
		chosen = exam.LeftOut
	}
	return s.picked(exam.SettingRehearsals, chosen,
		exam.Choice{Key: goOut, Words: "every laptop", Hint: "the other laptops get every rehearsal and its marks"},
		exam.Choice{Key: exam.LeftOut, Words: "no other laptop", Hint: "they stay where they were made; those that went out before stay there too"})
}

// shares says that other laptops have the record too.
func (s *screen) shares() bool {
	for _, state := range s.states {
		if slices.ContainsFunc(state.Said, func(l exam.Setting) bool { return !l.Own }) {
			return true
		}
	}
	return s.now.ShareFolder != "" || s.now.NoRehearsals
}

// goOut is the key of rehearsals that are shared, whose value is empty.
const goOut = "go out"

// maxHead is the longest line of the letterhead, in characters.
const maxHead = 200
