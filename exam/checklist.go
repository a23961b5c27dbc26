package exam

// Checked is one point of a check list with its answer.
type Checked struct {
	Key   string      `json:"key"`
	OK    bool        `json:"ok"`
	Words CheckAnswer `json:"words,omitempty"`
}

// CheckAnswer is what was answered to a point of a check list before a needle: one of the
// keys below, or words of a person's own (a name, what is not in order). Empty for a point
// that is in order.
type CheckAnswer string

// The answers that are offered.
const (
	ChipRead         CheckAnswer = "chip read"
	MarkingsCompared CheckAnswer = "markings compared"
	NobodyElse       CheckAnswer = "nobody else here" // who could check the arithmetic
	NeitherFoodSport CheckAnswer = "neither"
	FoodTold         CheckAnswer = "for food, the veterinarian was told"
	CompetesTold     CheckAnswer = "competes soon, the veterinarian was told"
	AgainOrdered     CheckAnswer = "again, by the veterinarian's order"
)
