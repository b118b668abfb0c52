"""From needs to amounts of the products on hand: linear programming, exact in the end."""
