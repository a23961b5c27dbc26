package storage

import (
	"sync"

	"github.com/fxamacker/cbor/v2"
)

// encoder writes derived rows. Times keep their nanoseconds and their offset,
// as in the JSON of the entries they were folded from.
var encoder = sync.OnceValue(func() cbor.EncMode {
	mode, err := cbor.EncOptions{Time: cbor.TimeRFC3339Nano, Sort: cbor.SortBytewiseLexical}.EncMode()
	if err != nil {
		panic(err) // the options are constants
	}
	return mode
})

// decoder reads derived rows; fields it does not know are passed over.
var decoder = sync.OnceValue(func() cbor.DecMode {
	mode, err := cbor.DecOptions{}.DecMode()
	if err != nil {
		panic(err) // the options are constants
	}
	return mode
})
