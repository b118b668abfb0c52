"""Pure computation: need, plan, delivery, judgement, `Mix`. No clock, files or printing."""
