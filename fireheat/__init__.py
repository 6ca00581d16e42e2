"""fireheat: why a bow-drill kit makes an ember soon, late or never."""

from importlib import import_module

__version__ = "0.1.0"

# Names a reader may use straight from the package, and the module each lives in. They are
# imported on first use, so that "import fireheat" costs almost nothing.
_HOMES = {
    "InputError": "quantities",
    "Kit": "kit.kit",
    "Effort": "kit.kit",
    "Air": "kit.kit",
    "Try": "kit.kit",
    "estimate": "estimates",
    "compare": "spread",
    "censored_fit": "trials.fit",
    "Arm": "person.arm",
    "Catcher": "ember.catchers",
    "Ember": "ember.ember",
}

__all__ = sorted(_HOMES)


def __getattr__(name):
    """Import a public name, or a module of the package, the first time it is asked for."""
    if name in _HOMES:
        return getattr(import_module(f".{_HOMES[name]}", __name__), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")


def __dir__():
    return __all__
