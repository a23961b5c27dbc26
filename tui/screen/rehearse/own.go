package rehearse

import (
	"slices"

	"loosebox/exam"
	"loosebox/exam/rehearse"
	"loosebox/tui/nav"
)

// apart is the store of one rehearsal: its visits are kept apart from the record,
// the settings are those of the machine, and the notes that the rehearsal itself
// writes are left out of what the screens read.
type apart struct {
	exam.Store
	settings exam.Store
}

func (a apart) Visit(id exam.VisitID) (exam.Visit, error) {
	v, err := a.Store.Visit(id)
	return withoutOwn(v), err
}

func (a apart) Past(h exam.HorseID, limit int) ([]exam.Visit, error) {
	list, err := a.Store.Past(h, limit)
	for i := range list {
		list[i] = withoutOwn(list[i])
	}
	return list, err
}

func (a apart) Settings() (exam.Settings, error)     { return a.settings.Settings() }
func (a apart) SaveSettings(set exam.Settings) error { return a.settings.SaveSettings(set) }
func (a apart) SaveSetting(set exam.Setting) error   { return a.settings.SaveSetting(set) }
func (a apart) PracticeSettings() ([]exam.SettingState, error) {
	return a.settings.PracticeSettings()
}

func withoutOwn(v exam.Visit) exam.Visit {
	v.Notes = slices.DeleteFunc(slices.Clone(v.Notes), func(n exam.VisitNote) bool { return rehearse.IsOwnNote(n.Text) })
	return v
}

// Within is what the screens of a rehearsal are made of: its store, and the horse
// that stands in for a real one. The visit is as the store of rehearsals has it.
func Within(d *nav.Deps, h *rehearse.Horse, v exam.Visit) *nav.Deps {
	own := *d
	own.Store = apart{d.Rehearsals, d.Store}
	own.Problem = ""
	if drill, ok := rehearse.Drill(v.Routine, d.Steps, d.Routines); ok {
		own.Routines = append(slices.Clone(d.Routines), drill)
	}
	own.Patient = newPatient(d, &own, h, v)
	return &own
}
