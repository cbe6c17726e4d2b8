from critique.library import (
    CritiqueError as CritiqueError,
)
from critique.library import (
    Picture as Picture,
)
from critique.library import (
    Review as Review,
)
from critique.library import (
    chart as chart,
)
from critique.library import (
    compare as compare,
)
from critique.library import (
    gallery as gallery,
)
from critique.library import (
    lineup as lineup,
)
from critique.library import (
    palette as palette,
)
from critique.library import (
    passes as passes,
)
from critique.library import (
    plan as plan,
)
from critique.library import (
    read as read,
)
from critique.library import (
    recipe as recipe,
)
from critique.library import (
    review as review,
)
from critique.library import (
    submit as submit,
)
from critique.library import (
    telling as telling,
)
from critique.library import (
    write as write,
)

__version__: str
