package exam

// Route is the way into the horse.
type Route string

// The routes, in the words of the trade.
const (
	RouteIM    Route = "IM"
	RouteIV    Route = "IV"
	RouteSC    Route = "SC"
	RouteMouth Route = "by mouth"
	RouteNose  Route = "in the nose"
)

// Routes lists every route.
func Routes() []Route { return []Route{RouteIM, RouteIV, RouteSC, RouteMouth, RouteNose} }

// Needled says whether a needle is used.
func (r Route) Needled() bool { return r == RouteIM || r == RouteIV || r == RouteSC }

// InjectionPhase is what one entry of an injection says. An injection is
// several entries, so that a program killed between "needle in" and "given"
// leaves an open attempt in the record: never lost, never invented.
type InjectionPhase string

// The phases.
const (
	InjectionReady    InjectionPhase = "ready"
	InjectionNeedleIn InjectionPhase = "needle in"
	InjectionClear    InjectionPhase = "clear"
	InjectionBlood    InjectionPhase = "blood"
	InjectionInVein   InjectionPhase = "drips"  // IV: the needle is seated
	InjectionPulsing  InjectionPhase = "pulses" // IV: out, and tell the vet
	InjectionNotFound InjectionPhase = "not in place"
	InjectionGiven    InjectionPhase = "given"
	InjectionStopped  InjectionPhase = "stopped"
	// InjectionNoted is an earlier dose, written down from papers or from what
	// somebody said; nobody injects, so no decision is needed.
	InjectionNoted InjectionPhase = "past"
)

// InjectionPhases lists every phase.
func InjectionPhases() []InjectionPhase {
	return []InjectionPhase{
		InjectionReady, InjectionNeedleIn, InjectionClear, InjectionBlood, InjectionInVein, InjectionPulsing,
		InjectionNotFound, InjectionGiven, InjectionStopped, InjectionNoted,
	}
}
