/** In a reference it stands for the row that comes first when the worst is first: no row may bear this name. */
export const WORST = 'worst';
