package progress

// Schema names the form of Document as JSON.
const Schema = "loosebox/rehearsals/1"

// Document is the JSON of the rehearsals command: what is known of several people's rehearsals.
type Document struct {
	Schema string       `json:"schema"`
	People []PersonJSON `json:"people"`
	// NotMarked are rehearsals whose case or routine is gone or was changed.
	NotMarked []Unmarked `json:"not_marked"`
}

// PersonJSON is a person with where each measure goes.
type PersonJSON struct {
	Person
	Measures []MeasureJSON `json:"measures"`
	Weak     []Weak        `json:"again"` // what went wrong more than once
}

// MeasureJSON is one measure over a person's newest finished rehearsals.
type MeasureJSON struct {
	Name   string   `json:"name"`
	Title  string   `json:"title"`
	Unit   string   `json:"unit"`
	Median *float64 `json:"median"`
	Trend  Trend    `json:"trend"`
}

// mostWeak is how many things that go wrong again are told.
const mostWeak = 10

// NewDocument gathers the document.
func NewDocument(people []Person, not []Unmarked) Document {
	d := Document{Schema: Schema, People: []PersonJSON{}, NotMarked: append([]Unmarked{}, not...)}
	for _, p := range people {
		one := PersonJSON{Person: p, Weak: p.Weak(mostWeak)}
		for _, m := range Measures() {
			j := MeasureJSON{Name: m.Name, Title: m.Title, Unit: m.Unit, Trend: p.Trend(m)}
			if v, ok := p.Usual(m); ok {
				j.Median = &v
			}
			one.Measures = append(one.Measures, j)
		}
		d.People = append(d.People, one)
	}
	return d
}
