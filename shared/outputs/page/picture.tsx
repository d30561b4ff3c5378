/** A picture with what it is called and what it says inside of it: for who cannot see it, and as a file of its own. */
import type { JSX } from "preact";

export const Picture = ({
	title,
	says,
	children,
	...rest
}: { readonly title: string; readonly says: string } & JSX.IntrinsicElements["svg"]) => (
	<svg role="img" {...rest}>
		<title>{title}</title>
		<desc>{says}</desc>
		{children}
	</svg>
);
