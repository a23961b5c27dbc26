package intake

import (
	"io"
	"regexp"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/intake/charset"
	"loosebox/exam/notation"
)

// Proposal is what a sheet looks like: what each of its columns probably means, and why. It is changed by whoever knows the
// sheet, and written as a map.
type Proposal struct {
	File    string
	Sheet   string       // of a file with several
	Charset charset.Name // of a text file that is not UTF-8
	Rows    int
	Notices []string
	Columns []*Guess
	// Kind is of every horse, By who examined and Date when, where no column says so.
	Kind, By, Date string
	// Horses says whose a name is that was asked about, by the name as the sheet has it.
	Horses map[string]string

	s      *sheet
	steps  *exam.Steps
	known  map[string]string // head -> what it means
	latest time.Time
}

// Guess is what one column probably means.
type Guess struct {
	Name   string
	Means  string // as a map has it: a role, a step, or several with commas between
	Why    string // a sentence
	Unit   string // as a map has it: C, F, "C or F", ask; empty where the step has one
	Format string // of dates
	Split  string // between several answers in one cell
	Above  bool   // an empty cell says what the one above it says
	Heavy  string // what an impossible weight of a grown animal is
	Words  []Word
	Filled int      // rows that hold something
	Ask    string   // a question that nobody but the owner of the sheet can answer
	Also   string   // a second question, asked when the first is answered
	Sample []string // a few different cells

	column int
	odd    []string // weights that no grown animal has, as the cells say them
}

// Word is one word of a column, how often it is there and what it would become.
type Word struct {
	Text    string
	Count   int
	Becomes string // as a map has it; empty: as written
	Reads   bool   // it is read as it stands
}

// maxWords is how many words of a column are listed.
const maxWords = 80

// Look reads a sheet and proposes what it means. Latest is the moment of the import. A sheet that cannot be read gives a
// *FileError.
func Look(table io.Reader, name string, how How, steps *exam.Steps, latest time.Time) (*Proposal, error) {
	e := newFileError(name)
	how.Loose = true
	s, err := readSheet(table, e, how)
	if err != nil {
		return nil, err
	}
	p := &Proposal{File: e.File, Kind: string(exam.AnimalHorse), Horses: map[string]string{}, s: s, steps: steps, known: heads(), latest: latest}
	if len(e.Problems) == 0 && s.head == nil {
		s.takeHead0(e, p)
	}
	if len(e.Problems) > 0 {
		return nil, e.OrNil()
	}
	if how.Sheet != "" {
		p.Sheet = s.name
	}
	if how.Charset != "" || s.letters != charset.UTF8 {
		p.Charset = s.letters
	}
	p.Rows, p.Notices = len(s.rows)+len(s.broken), s.notices
	for i, head := range s.head {
		if head == "" || head == WhyColumn {
			continue
		}
		p.Columns = append(p.Columns, &Guess{Name: head, column: i})
	}
	p.guess()
	return p, nil
}

// takeHead0 takes the row that names most columns in words that are known, or else the first that is wide.
func (s *sheet) takeHead0(e *FileError, p *Proposal) {
	if len(s.rows) == 0 {
		e.Add(0, "empty; one line names the columns, and every line below it is one exam")
		return
	}
	row := s.headOf(func(name string) bool { means, _ := namedHead(p.steps, p.known, name); return means != "" })
	if row < 0 {
		row = 0
		for i := range min(len(s.rows), headWithin) {
			if filled(s.rows[i].cells) > filled(s.rows[row].cells) {
				row = i
			}
		}
	}
	s.takeHead(row, e)
	if len(s.rows)+len(s.broken) == 0 {
		e.Add(0, "holds no exam below the names of its columns")
	}
}

// guess finds out what every column means: first what their names say, then what their cells say.
func (p *Proposal) guess() {
	taken := map[string]bool{}
	for _, g := range p.Columns {
		g.Filled, g.Sample = p.filled(g)
		means, unit := namedHead(p.steps, p.known, g.Name)
		named := means != ""
		switch {
		case g.Filled == 0:
			means, g.Why = ignored, "the column is empty"
		case means != "":
			g.Why = "by its name"
		default:
			means, g.Why = p.byCells(g, taken)
		}
		for _, part := range strings.Split(means, ", ") {
			if taken[part] && part != ignored && part != string(roleNote) {
				g.Why = "another column is " + part + " already; kept as a comment"
				means = string(roleNote)
			}
		}
		p.Take(g, means, unit)
		for _, part := range strings.Split(g.Means, ", ") {
			taken[part] = true
		}
		switch {
		case !p.several(g.Means):
		case named:
			p.askOrder(g)
		default:
			p.askParts(g)
		}
	}
	p.together(taken)
}

// together puts right what only all columns say: a table with one finding a row has a step and a value.
func (p *Proposal) together(taken map[string]bool) {
	long := taken[string(roleStep)] && taken[string(roleValue)]
	for _, g := range p.Columns {
		if long && g.Means == string(roleValue) {
			p.Take(g, g.Means, "") // now that the tests beside it are known
		}
		isLong := g.Means == string(roleStep) || g.Means == string(roleValue) || g.Means == string(roleSite) || g.Means == string(roleUnit)
		switch {
		case isLong && !long:
			p.Take(g, string(roleNote), "")
			g.Why = "kept as a comment"
		case !isLong && long && p.isStep(g.Means):
			p.Take(g, string(roleNote), "")
			g.Why = "the file has one finding a row; kept as a comment"
		}
	}
	if !taken[string(roleBy)] {
		p.By = "not named in the sheet"
	}
}

func (p *Proposal) isStep(means string) bool {
	id, _, _ := strings.Cut(strings.Split(means, ",")[0], ":")
	_, ok := p.steps.ByID(exam.StepID(id))
	return ok
}

// Take sets what a column means, and looks at its cells by that.
func (p *Proposal) Take(g *Guess, means, unit string) {
	g.Means, g.Unit, g.Format, g.Split, g.Words, g.Ask, g.Also, g.Above, g.Heavy = means, "", "", "", nil, "", "", false, ""
	switch {
	case means == ignored || means == string(roleNote):
	case p.isStep(means):
		p.takeStep(g, unit)
	default:
		p.takeRole(g)
	}
}

func (p *Proposal) cells(g *Guess) func(func(row sheetRow, text string) bool) {
	return func(yield func(sheetRow, string) bool) {
		for _, r := range p.s.rows {
			if text := r.cells[g.column]; text != "" && !yield(r, text) {
				return
			}
		}
	}
}

func (p *Proposal) filled(g *Guess) (n int, sample []string) {
	seen := map[string]bool{}
	for _, text := range p.cells(g) {
		n++
		if !seen[text] && len(sample) < 5 {
			seen[text] = true
			sample = append(sample, cutTo(text, 24))
		}
	}
	return n, sample
}

var chipForm = regexp.MustCompile(`^\d{15}$`)

// byCells is what a column means whose name says nothing.
func (p *Proposal) byCells(g *Guess, taken map[string]bool) (means, why string) {
	dates, chips, numbers := 0, 0, 0
	for _, text := range p.cells(g) {
		if _, err := readDate(text, "", dayForm{order: dayFirst}, time.UTC); err == nil && strings.ContainsAny(text, "/-. ") {
			dates++
		}
		if chipForm.MatchString(strings.ReplaceAll(text, " ", "")) {
			chips++
		}
		if _, err := notation.ParseQuantity(text); err == nil {
			numbers++
		}
	}
	several := p.numbersInCells(g)
	switch {
	case dates*10 >= g.Filled*8 && !taken[string(roleDate)]:
		return string(roleDate), "its cells are dates"
	case chips*10 >= g.Filled*8 && !taken[string(roleChip)]:
		return string(roleChip), "its cells are numbers of 15 digits"
	case several != "":
		return several, "its cells are several numbers that can be these"
	case numbers*10 >= g.Filled*8:
		return string(roleNote), "numbers, and its name says nothing that is known here; kept as a comment"
	}
	return string(roleNote), "its name says nothing that is known here; kept as a comment"
}
