"""Knowledge: materials, recipes, limits, sites and tools as people write them down."""
