package volume

import "loosebox/ranges/words"

// bloodTubes are the tubes with the texts of the language in use.
var bloodTubes = words.Rows("blood tube", func(t BloodTube) string { return string(t.Kind) }, builtInTubes)
