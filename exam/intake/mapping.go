package intake

import (
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Map says what every column of one spreadsheet means.
type Map struct {
	// Zone is where the exams were made; UTC where it is nil.
	Zone *time.Location
	// Latest is the moment after which no exam can have been made; zero sets no
	// such limit. It is also when the import is made.
	Latest time.Time
	// Taker is who imports; empty where nobody said it.
	Taker string

	steps   *exam.Steps
	columns []column
	named   map[string]int // lower-case name -> column

	horseKind  exam.AnimalKind
	horsePlace string
	horseOwner string

	by, routine, reason, note string
	date                      string

	// How is what the mapping says of the file itself.
	How How
	// spelled are names as the file has them, in lower case, and whose they are.
	spelled map[string]string
}

// Routine is the name of the routine that every visit is said to have followed;
// empty where the mapping names none.
func (m *Map) Routine() string { return m.routine }

// role is what a column holds when it holds no step.
type role string

const (
	roleSteps    role = ""
	roleIgnore   role = "ignore"
	roleNote     role = "note"
	roleName     role = "horse name"
	roleKind     role = "kind"
	roleSex      role = "sex"
	roleBreed    role = "breed"
	roleColour   role = "colour"
	roleOwner    role = "owner"
	rolePlace    role = "place"
	roleChip     role = "chip"
	roleBirth    role = "birth"
	roleAgeClass role = "age class"
	roleDate     role = "date"
	roleBy       role = "by"
	roleReason   role = "reason"
	roleAtRest   role = "at rest"
	roleTime     role = "time" // of day, beside a date
	roleAge      role = "age"  // on the day of the exam
	// Of a file with one finding a row.
	roleStep  role = "step"
	roleSite  role = "site"
	roleValue role = "value"
	roleUnit  role = "unit"
)

func roles() []role {
	return []role{
		roleIgnore, roleNote, roleName, roleKind, roleSex, roleBreed, roleColour, roleOwner, rolePlace, roleChip,
		roleBirth, roleAge, roleAgeClass, roleDate, roleTime, roleBy, roleReason, roleAtRest,
		roleStep, roleSite, roleValue, roleUnit,
	}
}

// column says what one column of the spreadsheet means.
type column struct {
	name   string
	line   int // in the mapping file
	role   role
	places []place
	unit   notation.Unit
	// words translates a cell, in lower case, for a column of steps.
	words map[string][]placed
	// texts translates a cell, in lower case, for any other column.
	texts  map[string]string
	label  string // of a note
	before string // put before a horse's name
	form   dayForm
	// either takes a bare number in whichever unit of the step it is possible; of no step is a number possible in two.
	either bool
	split  string // between the answers to several steps in one cell
	above  bool   // an empty cell says what the one above it says
	// otherwise is what a word is that is neither among values nor read: asWritten, or ignored.
	otherwise string
	heavy     string // what an impossible weight of a grown animal is: takeIt or leaveOut; empty asks
	asked     string // a question that the map leaves open, with ask in the place of an answer
}

// Words of a map.
const (
	asWritten = "as written"
	leaveOut  = "leave out"
	takeIt    = "take"
	asAbove   = "as above"
	askWord   = "ask"
	ignored   = "ignore"
)

// placed is an answer at one of the column's places; by is the place's number.
type placed struct {
	by     int
	answer answer
}

// find is the column that the mapping has for a name of the file.
func (m *Map) find(name string) (column, bool) {
	i, ok := m.named[strings.ToLower(name)]
	if !ok {
		return column{}, false
	}
	return m.columns[i], true
}

func (m *Map) names() []string {
	out := make([]string, len(m.columns))
	for i, c := range m.columns {
		out[i] = c.name
	}
	return out
}
