// Package progress sets a person's rehearsals beside each other: what each was like in a few numbers, whether they get
// better, and what goes wrong again and again; for the person, and for somebody who teaches several.
//
// Everything is worked out again from the stored entries of the rehearsals: nothing here is kept.
package progress
