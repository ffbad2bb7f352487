// Package sampling plans soil sampling: which zones, how deep, how many bags, and the exact place of every core.
//
// A bag is worth what it puts right. Each zone is drawn as it may be (package uncertainty), sampled and rated again by
// the same rules; what counts is how many acres then have the right class that had the wrong one, and how many tons of lime
// lie where they belong. Bags go where they put most right for their price, one after another, until samples or money
// are spent or nothing is left to be put right:
//
//	p, err := sampling.New(ctx, result, sampling.Options{Samples: 24})
//	p.Bags[0].ID        // "F1/2-A", topsoil of zone F1/2
//	p.Fields[0].Stops   // every core, in the order of walking
//
// Cores lie spread over the zone, farther from the field's edge than the set-back and the headland; excluded ground is cut
// out of a field, so it has such an edge too. The subsoil is sampled where a rating hinges on its pH.
package sampling
