package script

import "loosebox/exam/procedure/order"

// Name names a kind of procedure.
type Name string

// The names.
const (
	Injection Name = "injection"
	BloodDraw Name = "blood draw"
	Watch     Name = "watch"
	Danger    Name = "signs of danger"
	Record    Name = "for the record"
)

// ByVet is the number of an injection that is not begun and was given or ordered
// by the veterinarian without an earlier decision.
const ByVet = -1

// Kind is a kind of procedure.
type Kind struct {
	Name Name
	// Make makes the script of one of them: 0 begins one, or goes on with the one
	// that is open. From is the procedure that it was opened from.
	Make func(at *order.Job, number int, from Name) Script
	// Command is its name on the command line, with what its help says; empty for none.
	Command, Short, Long string
	// ByVet says that it may be saved after it was done, by the veterinarian's word.
	ByVet bool
	// Unread says that it shows what it has before the visit is read, and where it
	// cannot be read.
	Unread bool
}

// Kinds is the table of every kind: a new one is one line here and one file.
func Kinds() []Kind {
	return []Kind{
		{Name: Injection, Make: newInjection, Command: "inject", Short: "one injection of a visit that the veterinarian decided on", Long: injectionHelp, ByVet: true},
		{Name: BloodDraw, Make: newDraw, Command: "draw", Short: "one blood draw of a visit that the veterinarian decided on", Long: drawHelp},
		{Name: Watch, Make: newWatch, Command: "observe", Short: "the observation after an injection: time left, and how it ended", Long: watchHelp},
		{Name: Danger, Make: newDanger, Unread: true},
		{Name: Record, Make: newRecord, Command: "consent", Short: "for the record: consent, people present, controlled products", Long: recordHelp},
	}
}

// KindOf is the kind with a name.
func KindOf(name Name) Kind {
	for _, k := range Kinds() {
		if k.Name == name {
			return k
		}
	}
	return Kind{}
}
