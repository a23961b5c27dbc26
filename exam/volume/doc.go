// Package volume does the arithmetic around a needle, for the person who draws up or draws blood: an ordered dose into
// millilitres at the marks of a syringe, a paste by its weight marks, a drip into drops, a fluid loss into litres, and
// how much of a horse's blood a draw takes.
//
// It proposes no drug, no dose, no rate and no route: those are the veterinarian's, the label's and the local rules'.
// What it is given it computes, shows with its working, and refuses where the result would mislead.
package volume
