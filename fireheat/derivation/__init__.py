"""Where the formulas come from, each step worked out by sympy; nothing else imports sympy."""
