// Package notation reads and writes what people type: texts, numbers with their units, doses and strengths, days and times.
// It knows nothing of horses, steps or visits, and everything else may use it.
package notation
