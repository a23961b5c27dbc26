package order

import "loosebox/exam"

// Else is the letter that says that something else went in than was ordered.
const Else = "o"

// SomethingElse are the questions of what really went in, where it was not what was
// ordered: another product, another route, another amount. It is always saved.
func SomethingElse(o exam.Order) []Field {
	return []Field{
		{Key: Product, Label: "product", Ask: "Which product went in?", Limit: 120, Check: Needed("say which product went in")},
		{Key: Route, Label: "route", Ask: "By which route?", Choices: routes()},
		{Key: InML, Label: "given, mL", Ask: "How many mL went in? Or: " + NotKnown + ".", Limit: 20, Check: checkWentIn, Hint: func(string) string {
			return "in mL; or: " + NotKnown + ". It is saved as given; tell the vet."
		}},
	}
}

// ElseLine is what SomethingElse asked, as the line that ends the injection.
func ElseLine(i exam.Injection, get func(string) string) exam.InjectionLine {
	ml, known := ReadAmount(get(InML))
	l := exam.InjectionLine{Number: i.Number, Phase: exam.InjectionGiven, VolumeML: ml, NotKnown: !known}
	if product := get(Product); !sameProduct(product, i.Order.Product) {
		l.Product = product
	}
	if route := exam.Route(get(Route)); route != i.Order.Route {
		l.Route = route
	}
	return l
}
