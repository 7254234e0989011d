"""Homographies of nine noisy marks with the least sum of squared distances in the picture, by numpy alone.

Writes homography.csv: a line a case, the marks in the picture as x y pairs, then the eight entries of the matrix beside a last entry of 1,
from a rectangle of 420 x 297 whose middle is the origin. Levenberg and Marquardt's way with complex-step derivatives, from the exact map of the
four corners: nothing of it is in the program.
"""

import numpy as np

PLACES = np.array(
    [(-1, -1), (1, -1), (1, 1), (-1, 1), (0, -1), (1, 0), (0, 1), (-1, 0), (0, 0)], dtype=float
) * (210.0, 148.5)


def mapped(entries, points):
    matrix = np.append(entries, 1.0).reshape(3, 3)
    homogeneous = np.column_stack([points, np.ones(len(points))]) @ matrix.T
    return homogeneous[:, :2] / homogeneous[:, 2:]


def of_corners(seen):
    rows, right = [], []
    for (x, y), (u, v) in zip(PLACES[:4], seen[:4]):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        right += [u, v]
    return np.linalg.solve(np.array(rows), np.array(right))


# One unit of an entry moves points by very different distances.
SCALE = np.array([1, 1, 200, 1, 1, 200, 1e-3, 1e-3])


def least(seen):
    def off(steps):
        return (mapped(steps * SCALE, PLACES) - seen).ravel()

    steps, damping = of_corners(seen) / SCALE, 1e-3
    for _ in range(200):
        slopes = np.column_stack([off(steps + 1e-30j * np.eye(8)[i]).imag / 1e-30 for i in range(8)])
        normal, right = slopes.T @ slopes, -slopes.T @ off(steps)
        step = np.linalg.solve(normal + damping * np.diag(np.diag(normal)), right)
        if np.sum(off(steps + step) ** 2) <= np.sum(off(steps) ** 2):
            steps, damping = steps + step, damping / 5
        else:
            damping *= 5
        if np.max(np.abs(step)) < 1e-15:
            break
    return steps * SCALE


def main():
    random = np.random.default_rng(20)
    with open("homography.csv", "w") as file:
        file.write(",".join([f"{axis}{mark}" for mark in range(1, 10) for axis in "xy"] + list("abcdefgh")) + "\n")
        for _ in range(12):
            tilt = random.uniform(-6e-4, 6e-4, 2)
            turn, grow = random.uniform(-3, 3), random.uniform(1.0, 2.5)
            cos, sin = grow * np.cos(turn), grow * np.sin(turn)
            middle = random.uniform((700, 400), (1200, 680))
            planted = [cos + middle[0] * tilt[0], -sin + middle[0] * tilt[1], middle[0],
                       sin + middle[1] * tilt[0], cos + middle[1] * tilt[1], middle[1], *tilt]
            seen = mapped(np.array(planted), PLACES) + random.normal(0, 1.5, (9, 2))
            values = [*seen.ravel(), *least(seen)]
            file.write(",".join(repr(float(value)) for value in values) + "\n")


if __name__ == "__main__":
    main()
