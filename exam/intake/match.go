package intake

import (
	"encoding/json"
	"slices"
	"strings"

	"loosebox/exam"
)

// RecordMatch says whether the record already holds an exam of a sheet.
type RecordMatch int

// What the record holds of it.
const (
	Fresh   RecordMatch = iota // it is not there
	Known                      // it is there with the same content
	Changed                    // another visit is there at that time
)

// Match says of exams of one horse, which must be in order of time, how each stands to the horse's visits in the record. A
// visit is known by its time and by what it found when it was written, whatever was corrected since; each visit of the record
// is one exam at the most. Of a changed one the visit of the record comes back.
func Match(visits []Visit, past []exam.Visit) ([]RecordMatch, []exam.Visit) {
	at := map[int64][]exam.Visit{}
	for _, v := range past {
		at[v.OpenedAt.Unix()] = append(at[v.OpenedAt.Unix()], v)
	}
	out, others := make([]RecordMatch, len(visits)), make([]exam.Visit, len(visits))
	for i, v := range visits { // the same ones first, so that no changed one takes their place
		list := at[v.At().Unix()]
		if n := slices.IndexFunc(list, func(p exam.Visit) bool { return content(p) == contentOf(v) }); n >= 0 {
			out[i] = Known
			at[v.At().Unix()] = slices.Delete(slices.Clone(list), n, n+1)
		}
	}
	for i, v := range visits {
		if list := at[v.At().Unix()]; out[i] == Fresh && len(list) > 0 {
			out[i], others[i] = Changed, list[0]
			at[v.At().Unix()] = list[1:]
		}
	}
	return out, others
}

// said is one answer or note as it was first written, to be compared.
type said struct {
	Step   exam.StepID
	Site   exam.Site
	Number any
	Bound  exam.Bound
	Words  []string
	Text   string
	Why    string
	Note   string
}

func saidOf(step exam.StepID, site exam.Site, v exam.Value, why, note string) string {
	s := said{Step: step, Site: site, Bound: v.Bound, Words: v.Words, Text: v.Text, Why: why, Note: note}
	if v.Number != nil {
		s.Number = *v.Number
	}
	b, err := json.Marshal(s)
	if err != nil {
		return ""
	}
	return string(b)
}

// contentOf is what an exam of a sheet says, whatever the order of its lines. What was not recorded says nothing, so that
// a column that a sheet was given later changes no earlier exam.
func contentOf(v Visit) string {
	var list []string
	for _, e := range v.Entries {
		switch {
		case e.Kind == exam.EntryNote:
			list = append(list, saidOf("", "", exam.Value{}, "", e.Note))
		case e.Kind == exam.EntryNotDone && e.Reason != string(exam.ReasonNotRecorded):
			list = append(list, saidOf(e.Step, e.Site, exam.Value{}, e.Reason, e.Note))
		case e.Kind == exam.EntryFinding:
			list = append(list, saidOf(e.Step, e.Site, *e.Value, "", e.Note))
		}
	}
	slices.Sort(list)
	return strings.Join(list, "\n")
}

// content is what a visit of the record said when it was written.
func content(v exam.Visit) string {
	var list []string
	for _, f := range v.Findings {
		if len(f.Before) > 0 {
			f = f.Before[0]
		}
		if f.Added || f.NotDone == exam.ReasonNotRecorded {
			continue
		}
		list = append(list, saidOf(f.Step, f.Site, f.Value, string(f.NotDone), f.Note))
	}
	for _, n := range v.Notes {
		if len(n.Before) > 0 {
			n = n.Before[0]
		}
		if !n.Added {
			list = append(list, saidOf(n.Step, n.Site, exam.Value{}, "", n.Text))
		}
	}
	slices.Sort(list)
	return strings.Join(list, "\n")
}

// Differs lists the places at which an exam of a sheet and a visit of the record differ, in record order.
func Differs(v Visit, old exam.Visit, steps *exam.Steps) []string {
	had := map[exam.Key]exam.Finding{}
	for _, f := range old.Findings {
		had[f.Key()] = f
	}
	var out []string
	for _, e := range v.Entries {
		step, ok := steps.ByID(e.Step)
		if !ok || e.Kind != exam.EntryFinding {
			continue
		}
		f, has := had[exam.Key{Step: e.Step, Site: e.Site}]
		was := "nothing"
		if has && f.Done() {
			was = f.Value.Show(step)
		}
		if now := e.Value.Show(step); now != was {
			out = append(out, strings.TrimSpace(strings.ToLower(step.Name)+" "+string(e.Site))+" "+now+", in the record "+was)
		}
	}
	if len(out) == 0 {
		out = append(out, "a comment, or what was not done")
	}
	return out
}
