"""Which notebook of ours a reader means."""

from ..shipped import shipped_code


def named_notebook(word: str) -> str:
    """Return the name of the notebook of ours that a reader means.

    Parameters
    ----------
    word : str
        Its name, with or without ``.ipynb``, or how it begins, such as ``03``.

    Returns
    -------
    str
        The file's name.

    Raises
    ------
    ValueError
        If none is called so, or several are.

    Examples
    --------
    >>> named_notebook("00")
    '00-start-here.ipynb'
    """
    names = list(shipped_code())
    found = [name for name in names if word in (name, name.removesuffix(".ipynb"))]
    found = found or [name for name in names if word and name.startswith(word)]
    if len(found) != 1:
        raise ValueError(f"no notebook is called {word}; there are {', '.join(names)}")
    return found[0]
