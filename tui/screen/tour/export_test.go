package tour

// What tests see of the inside.
var (
	Routine    = routine
	Begin      = begin
	ShortTitle = shortTitle
)

// The names of the tour.
const (
	Short      = short
	ShortCase  = shortCase
	ShortSeed  = shortSeed
	PaperVisit = paperVisit
	PaperHorse = paperHorse
)
