// Package steps is the table of steps of a horse's physical exam, one file a
// body system, and the routines that put them in order. Screen, plain prompt,
// review, report and blank sheet all read these literals; to add a step, add a
// literal, and the tests say what is missing.
//
// Every choice that is not usual says why, and where that was read: a source
// code of the ranges package with the evidence word that its weight allows. The
// words of the choices are our own, not those of any published scale.
package steps
