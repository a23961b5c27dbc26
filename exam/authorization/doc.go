// Package authorization says what may be done to a horse now, and what may be written into its visit: which decision of the
// veterinarian covers a procedure, whether an order keeps to it, and what differs from it. It decides nothing by itself and
// keeps nothing: every function looks at a visit as it stands.
package authorization
