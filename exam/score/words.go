package score

import "loosebox/ranges/words"

// ItemName is the key of an item of a score; where an item is a choice or a milestone of another table, it is its words
// from there.
type ItemName string

const (
	itemState      ItemName = "state"
	itemMembranes  ItemName = "membranes"
	itemGums       ItemName = "gums"
	itemHeart      ItemName = "heart"
	itemBreath     ItemName = "breath"
	itemTemp       ItemName = "temp"
	itemRefill     ItemName = "refill"
	itemMoisture   ItemName = "moisture"
	itemJugular    ItemName = "jugular"
	itemEyes       ItemName = "eyes"
	itemSkinTent   ItemName = "tent" // never used alone
	itemWhiteCells ItemName = "white"
	itemCalcium    ItemName = "calcium"
	itemLactate    ItemName = "lactate"
	itemWeight     ItemName = "weight"
	itemWholeHorse ItemName = "horse"
	itemWholeFace  ItemName = "face"
	itemCrest      ItemName = "crest"
	itemNeck       ItemName = "neck"
	itemHeight     ItemName = "height"
	itemAir        ItemName = "air"
	itemHumidity   ItemName = "humidity"
	itemMeasured   ItemName = "globe"
)

var itemNames = words.New("item of a score", map[ItemName]string{
	itemState:      "general state",
	itemMembranes:  "membranes",
	itemGums:       "gum color",
	itemHeart:      "heart rate",
	itemBreath:     "breathing rate",
	itemTemp:       "temperature",
	itemRefill:     "gum refill",
	itemMoisture:   "gum moisture",
	itemJugular:    "jugular filling",
	itemEyes:       "eyes",
	itemSkinTent:   "skin tent",
	itemWhiteCells: "white cells",
	itemCalcium:    "ionised calcium",
	itemLactate:    "lactate",
	itemWeight:     "body weight",
	itemWholeHorse: "the whole horse",
	itemWholeFace:  "the whole face",
	itemCrest:      "crest",
	itemNeck:       "neck",
	itemHeight:     "height",
	itemAir:        "air",
	itemHumidity:   "relative humidity",
	itemMeasured:   "measured",
})

// String is the item for a person.
func (n ItemName) String() string { return itemNames.Of(n) }
