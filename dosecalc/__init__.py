"""dosecalc: from a published rate to what to weigh, dissolve and spread on your own ground."""
