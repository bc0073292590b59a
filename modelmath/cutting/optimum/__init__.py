"""The best cut plan by column generation: the pricing, the linear programme, the exact bound, the stages."""
